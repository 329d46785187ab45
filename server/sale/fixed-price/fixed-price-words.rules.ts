import type { Instant } from '#kernel/instant'
import { type Currency, showMoney } from '#kernel/money'
import { civilIn, sayDay } from '#kernel/wall-clock'
import type { FixedPrice } from './fixed-price.contract'

/** A sale may come weeks after the day, so its year is said too. */
const showDay = (at: Instant, zone: string): string => sayDay(civilIn(at, zone), { withYear: true })

/** The words for `2027-04-12`. */
const dayWords = (day: string): string => showDay(Date.parse(`${day}T12:00:00Z`), 'utc')

/** "Can still be had for £80", or "Sold at a fixed price of £80". */
export function sayFixedPrice(fixed: FixedPrice, currency: Currency): string {
  const price = showMoney(fixed.priceMinor, currency, { short: true })
  return fixed.is === 'sold' ? `Sold at a fixed price of ${price}` : `Can still be had for ${price}`
}

/** Until when, or since when. */
export function sayFixedDay(fixed: FixedPrice, zone: string): string {
  if (fixed.is === 'sold') return `on ${showDay(fixed.soldAt, zone)}`
  return fixed.lastDay === null ? 'by whoever says yes first' : `by whoever says yes first, until the end of ${dayWords(fixed.lastDay)}`
}

/** What became of a lot at its closing, before it could be had at a fixed price. */
export function sayClosing(
  { state, hammerMinor, bids }: { state: string; hammerMinor: number | null; bids: number },
  currency: Currency,
): string {
  if (state === 'sold')
    return `At its closing the hammer fell at ${showMoney(hammerMinor ?? 0, currency, { short: true })}; that sale was not completed.`
  if (state === 'withdrawn') return 'It was withdrawn from the auction: nobody won it.'
  return bids > 0 ? 'At its closing the reserve was not reached.' : 'At its closing nobody had bid.'
}
