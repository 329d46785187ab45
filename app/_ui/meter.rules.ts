import { type Currency, type Minor, showMoney } from '#kernel/money'

/** The four exclusive states of proceeds. Every amount is counted in one of them only. */
export interface MeterAmounts {
  remittedMinor: Minor
  paidMinor: Minor
  wonMinor: Minor
  bidMinor: Minor
  targetMinor: Minor
}

export interface MeterPart {
  state: 'remitted' | 'paid' | 'won' | 'bid'
  amountMinor: Minor
  /** Fractions of the meter's length. */
  from: number
  to: number
}

export interface MeterPlaces {
  parts: MeterPart[]
  target: number
  /** What the whole length stands for: the target, or more once money and bids pass it. */
  lengthMinor: Minor
  /** Hammered: won, paid and remitted. What a standing bid would add is not in it. */
  raisedMinor: Minor
  /** Raised less target, when that is above zero. */
  pastMinor: Minor
}

/** Zero-based and in order of certainty; past the target the whole scale shrinks and the tick moves in. */
export function placeMeter(amounts: MeterAmounts): MeterPlaces {
  const { remittedMinor, paidMinor, wonMinor, bidMinor, targetMinor } = amounts
  const raisedMinor = remittedMinor + paidMinor + wonMinor
  const lengthMinor = Math.max(targetMinor, raisedMinor + bidMinor, 1)
  const given = [
    ['remitted', remittedMinor],
    ['paid', paidMinor],
    ['won', wonMinor],
    ['bid', bidMinor],
  ] as const
  let sum = 0
  const parts = given.map(([state, amountMinor]) => {
    const from = sum / lengthMinor
    sum += amountMinor
    return { state, amountMinor, from, to: sum / lengthMinor }
  })
  return {
    parts: parts.filter((part) => part.amountMinor > 0),
    target: targetMinor / lengthMinor,
    lengthMinor,
    raisedMinor,
    pastMinor: Math.max(0, raisedMinor - targetMinor),
  }
}

export const METER_WORDS = { remitted: 'with the cause', paid: 'paid', won: 'won', bid: 'in bids' } as const

/** "£1,850 raised of £3,000: £1,240 paid, £610 won. £410 more in bids." and by how much the target is passed. */
export function sayMeter(amounts: MeterAmounts, currency: Currency): string {
  const { raisedMinor, parts } = placeMeter(amounts)
  const show = (minor: Minor) => showMoney(minor, currency, { short: true })
  const made = parts.filter(({ state }) => state !== 'bid').map(({ state, amountMinor }) => `${show(amountMinor)} ${METER_WORDS[state]}`)
  const detail = made.length > 0 ? `: ${made.join(', ')}` : ''
  const bids = amounts.bidMinor > 0 ? ` ${show(amounts.bidMinor)} more in bids.` : ''
  const past = sayPast(amounts, currency)
  return `${show(raisedMinor)} raised of ${show(amounts.targetMinor)}${detail}.${bids}${past ? ` ${past}` : ''}`
}

/** By how much the target is passed, and whether money or only standing bids pass it; null below it. */
export function sayPast(amounts: MeterAmounts, currency: Currency): string | null {
  const { raisedMinor, pastMinor } = placeMeter(amounts)
  const show = (minor: Minor) => showMoney(minor, currency, { short: true })
  if (pastMinor > 0) return `Past the target by ${show(pastMinor)}.`
  if (raisedMinor === amounts.targetMinor && raisedMinor > 0) return 'The target is reached.'
  const withBids = raisedMinor + amounts.bidMinor - amounts.targetMinor
  return withBids > 0 ? `The bids would pass the target by ${show(withBids)}.` : null
}
