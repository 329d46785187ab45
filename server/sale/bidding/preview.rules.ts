import type { Currency, Minor } from '#kernel/money'
import { showMoney } from '#kernel/money'
import type { ReserveState } from '../price/price.rules'

/** What a bidder can know before the bid is sent: never anybody else's maximum. */
export interface KnownToBidder {
  currency: Currency
  standingMinor: Minor | null
  leastNextMinor: Minor
  reserve: ReserveState
  /** The bidder's own maximum while they lead, and the least to which they may raise it; null while they do not. */
  own: { maximumMinor: Minor; leastRaiseMinor: Minor } | null
  /** The most that their paddle may bid. */
  ceilingMinor: Minor
}

/** The sentence under the amount: what the bid would do if it were sent now. */
export function previewBid(known: KnownToBidder, maximumMinor: Minor): string {
  const show = (amount: Minor) => showMoney(amount, known.currency, { short: true })
  if (maximumMinor > known.ceilingMinor) return `Your paddle may bid up to ${show(known.ceilingMinor)}. Ask us to raise it.`
  if (known.own !== null) {
    const { maximumMinor: ownMinor, leastRaiseMinor } = known.own
    if (maximumMinor <= ownMinor) return `You lead and allow up to ${show(ownMinor)}. A maximum can only be raised.`
    if (maximumMinor < leastRaiseMinor)
      return `You lead and allow up to ${show(ownMinor)}. Raise it by a step at least, to ${show(leastRaiseMinor)}.`
    const price = known.standingMinor ?? known.leastNextMinor
    const reserve = known.reserve === 'unreached' ? ' If that reaches the reserve, the price goes to the reserve.' : ''
    return `You would still lead at ${show(price)} until somebody passes ${show(maximumMinor)}.${reserve}`
  }
  if (maximumMinor < known.leastNextMinor) return `A bid must be at least ${show(known.leastNextMinor)}.`
  const lead = `You would lead at ${show(known.leastNextMinor)} until somebody passes ${show(maximumMinor)}`
  if (known.reserve === 'unreached') return `${lead}; at the reserve, if your maximum reaches it.`
  return known.standingMinor === null ? `${lead}.` : `${lead}, unless the leader has allowed as much already.`
}
