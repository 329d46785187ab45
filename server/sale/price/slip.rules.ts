import { type Currency, type Minor, showMoney } from '#kernel/money'

/** The prices of a lot that an amount is held against before it binds. */
export interface LotPrices {
  standingMinor: Minor | null
  /** The price at which bidding begins, while nobody has bid. */
  openingMinor: Minor | null
  /** The estimate published before bidding; null where there is none. */
  highMinor: Minor | null
}

/**
 * The question that is asked once before an amount binds that may be a slip of the finger, such as a nought too many: more
 * than twice the high estimate, or more than ten times the standing bid (common practice). Null where there is nothing to ask.
 */
export function askSlip(
  { currency, standingMinor, openingMinor, highMinor }: LotPrices & { currency: Currency },
  maximumMinor: Minor,
): string | null {
  const show = (amount: Minor) => showMoney(amount, currency, { short: true })
  const price = standingMinor ?? openingMinor
  const isOverEstimate = highMinor !== null && maximumMinor > 2 * highMinor
  const isOverPrice = price !== null && maximumMinor > 10 * price
  if (!isOverEstimate && !isOverPrice) return null
  const why = isOverPrice
    ? `It is ${Math.floor(maximumMinor / price)} times the ${standingMinor === null ? 'opening price' : 'standing bid'} of ${show(price)}`
    : `It is more than twice the high estimate of ${show(highMinor ?? 0)}`
  return `Is ${showMoney(maximumMinor, currency)} what you mean? ${why}.`
}
