import { type Currency, type Minor, showMoney } from '#kernel/money'
import { GB_BENEFIT, RELIEF_TABLES, type ReliefCountry, US_LIMITS } from './relief.data'

export interface ReliefFacts {
  country: ReliefCountry
  currency: Currency
  /** The price without postage, and the part of it that reaches the cause. */
  priceMinor: Minor
  causeMinor: Minor
  /** A price at which the same can be had elsewhere, published before bidding; null for a thing that cannot. */
  published: { valueMinor: Minor; knownFrom: string } | null
  /** The upper end of the estimate that was published before bidding. */
  estimateHighMinor: Minor | null
}

export interface Relief {
  country: ReliefCountry
  name: string
  /** The part of the price that may be a gift. Nought is an answer. */
  giftMinor: Minor
  /** Why, in sentences, the rule first. */
  because: string[]
  /** What the seller or the cause has to say in writing. */
  duties: string[]
  cautions: string[]
  source: string
  trueOn: string
}

export const RELIEF_CAUTIONS = [
  'An estimate only, not tax advice: the cause and the tax office decide, not us.',
  'Rules and limits are those of the edition named here and may have changed since.',
  'Keep the invoice and whatever the cause sends you.',
] as const

/**
 * What of a price may be a gift, country by country; never more than the part that reaches the cause. It is for
 * the buyer and the treasurer alone: a donor of goods is told nothing about value.
 */
export function reliefEstimate(facts: ReliefFacts): Relief {
  const { country } = facts
  const { name, source, trueOn, conditions } = RELIEF_TABLES[country]
  const { giftMinor, because, duties } = country === 'GB' ? inBritain(facts) : inAmerica(facts)
  return { country, name, giftMinor, because, duties, cautions: [...RELIEF_CAUTIONS, ...conditions], source, trueOn }
}

type Finding = Pick<Relief, 'giftMinor' | 'because' | 'duties'>

/** HMRC 3.4.5: the value of a thing not openly sold is what was paid for it; where a price was known, what is above it may be a gift. */
function inBritain({ currency, priceMinor, causeMinor, published }: ReliefFacts): Finding {
  const show = (minor: Minor) => showMoney(minor, currency)
  if (!published) {
    const words =
      'A machine that cannot be bought elsewhere is worth what was paid for it at the auction, so no part of the price is a gift.'
    return { giftMinor: 0, because: [words], duties: [] }
  }
  const { valueMinor, knownFrom } = published
  const giftMinor = aboveValue(priceMinor, causeMinor, valueMinor)
  const known = `The same can be bought for ${show(valueMinor)} (${knownFrom}), and this was published before bidding.`
  if (giftMinor === 0)
    return { giftMinor, because: [known, 'No more than that reaches the cause, so no part of the price is a gift.'], duties: [] }
  const limit = benefitLimit(priceMinor)
  const limits =
    currency === 'GBP'
      ? [
          `The benefit that may come with a gift of ${show(priceMinor)} is ${show(limit)} at most; a machine worth ${show(valueMinor)} is ${valueMinor <= limit ? 'within' : 'above'} that, so ${valueMinor <= limit ? 'ask the cause whether the whole can be treated as a gift' : 'only a payment that is split can hold a gift'}.`,
        ]
      : ['The limits on benefits are in pounds and were not looked at for this currency.']
  const split = `The payment can be split: ${show(priceMinor - giftMinor)} for the machine and ${show(giftMinor)} as a gift, if the buyer knew the price and meant this when bidding.`
  return { giftMinor, because: [known, split, ...limits], duties: ['The cause and the buyer note the split in writing.'] }
}

/** IRS: what was paid above the fair market value, if the buyer can show that they knew it to be less. */
function inAmerica({ currency, priceMinor, causeMinor, published, estimateHighMinor }: ReliefFacts): Finding {
  const show = (minor: Minor) => showMoney(minor, currency)
  const valueMinor = published?.valueMinor ?? estimateHighMinor
  if (valueMinor === null) {
    const words = 'No value was published before bidding, so nothing shows that the price was more than the value.'
    return { giftMinor: 0, because: [words], duties: [] }
  }
  const from = published ? `${show(valueMinor)} (${published.knownFrom})` : `${show(valueMinor)}, the upper end of the estimate`
  const giftMinor = aboveValue(priceMinor, causeMinor, valueMinor)
  const known = `The value published before bidding was ${from}.`
  if (giftMinor === 0)
    return { giftMinor, because: [known, 'No more than that reaches the cause, so nothing can be deducted.'], duties: [] }
  const inDollars = currency === 'USD'
  return {
    giftMinor,
    because: [known, `Only what was paid above it may be deducted: ${show(giftMinor)}.`],
    duties: inDollars
      ? [
          ...(needsDisclosure(priceMinor, giftMinor)
            ? [
                'The payment is above $75 and partly for goods: the cause must give a written statement with a good-faith estimate of their value.',
              ]
            : []),
          ...(giftMinor >= US_LIMITS.acknowledgmentFromMinor
            ? ['The gift is $250 or more: the buyer needs a written acknowledgment from the cause before filing.']
            : []),
        ]
      : ['The limits on written statements are in dollars and were not looked at for this currency.'],
  }
}

const aboveValue = (priceMinor: Minor, causeMinor: Minor, valueMinor: Minor): Minor =>
  Math.max(0, Math.min(priceMinor, causeMinor) - valueMinor)

/** The most that a benefit may be worth beside a gift, in pence; parts of a penny fall off. */
export function benefitLimit(giftMinor: Minor): Minor {
  const first = Math.min(giftMinor, GB_BENEFIT.firstMinor)
  const limit = Math.floor((first * GB_BENEFIT.firstBp + (giftMinor - first) * GB_BENEFIT.restBp) / 10_000)
  return Math.min(limit, GB_BENEFIT.mostMinor)
}

/** A payment of more than 75 dollars, part gift and part for goods. It is the payment that counts, not the part. */
export const needsDisclosure = (priceMinor: Minor, giftMinor: Minor): boolean =>
  giftMinor > 0 && priceMinor > US_LIMITS.disclosureAboveMinor
