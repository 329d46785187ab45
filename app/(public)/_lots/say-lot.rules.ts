import type { Instant } from '#kernel/instant'
import { showMoney } from '#kernel/money'
import type { LotFrame } from '#sale/bidding/bidding.contract'
import { sayFixedPrice } from '#sale/fixed-price/fixed-price-words.rules'
import { lateBidRule } from '#sale/price/late-bid.rules'
import { comesTo, soldWords } from '#sale/price/result.rules'

const WORDS = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten', 'eleven', 'twelve']

/** "two", "twelve", "13". */
export const countWord = (count: number): string => WORDS[count] ?? String(count)

/** "eleven bids", "one bid", "no bids yet". */
export function sayBids(bids: number): string {
  if (bids === 0) return 'no bids yet'
  return `${countWord(bids)} ${bids === 1 ? 'bid' : 'bids'}`
}

/** "reserve reached", or nothing where there is none. */
export const sayReserve = (reserve: LotFrame['reserve']): string | null =>
  reserve === 'none' ? null : reserve === 'reached' ? 'reserve reached' : 'reserve not reached'

/** Who stands where, as one short sentence: "Alias 4K leads at £165". */
export function sayStanding(frame: LotFrame): string {
  const show = (amount: number) => showMoney(amount, frame.currency, { short: true })
  if (frame.fixedPrice) return sayFixedPrice(frame.fixedPrice, frame.currency)
  if (frame.state === 'sold') return soldWords({ ...frame, hammerMinor: frame.hammerMinor ?? frame.standingMinor }, show)
  if (frame.state === 'unsold' && comesTo(frame) > 0) return soldWords(frame, show)
  if (frame.state === 'unsold') return frame.bids > 0 ? 'Not sold: the reserve was not reached' : 'Not sold: nobody bid'
  if (frame.state === 'withdrawn') return 'Withdrawn: nobody wins it'
  if (frame.standingMinor !== null) return `Alias ${frame.leaderAlias} leads at ${show(frame.standingMinor)}`
  return frame.openingMinor === null ? 'No price yet' : `Bidding begins at ${show(frame.openingMinor)}`
}

/** The same for a lot that is sold under another address: its bids are not known here, its result is entered by hand. */
export function sayElsewhere(frame: LotFrame): string {
  const show = (amount: number) => showMoney(amount, frame.currency, { short: true })
  if (frame.fixedPrice) return sayFixedPrice(frame.fixedPrice, frame.currency)
  if (frame.state === 'sold' && frame.hammerMinor !== null) return soldWords(frame, show)
  if (frame.state === 'unsold') return 'Not sold'
  if (frame.state === 'withdrawn') return 'Withdrawn: nobody wins it'
  return frame.openingMinor === null ? 'Offered elsewhere' : `Offered elsewhere, from ${show(frame.openingMinor)}`
}

/** What the countdown shows: only the house says that a lot is closed. */
export const countdownState = (state: LotFrame['state']): 'running' | 'ended' =>
  state === 'held' || state === 'open' || state === 'ready' ? 'running' : 'ended'

/** The rule of late bids with a space after it, as long as a bid can still be late; a clock that stands still is not moved. */
export const sayLateBid = ({ state, closesAt, lateBid }: LotFrame, now: Instant): string =>
  (state === 'ready' || state === 'open') && (closesAt === null || closesAt > now) ? `${lateBidRule(lateBid)} ` : ''

/** "Lots 8 to 10 follow." for those that close after this one, or nothing. */
export function sayFollowing(numbers: readonly number[]): string {
  const [first, ...rest] = numbers
  if (first === undefined) return ''
  const last = rest.at(-1)
  if (last === undefined) return `Lot ${first} follows.`
  const inARow = numbers.every((one, index) => one === first + index)
  if (inARow && numbers.length > 2) return `Lots ${first} to ${last} follow.`
  return numbers.length > 4 ? `${numbers.length} more lots follow.` : `Lots ${numbers.slice(0, -1).join(', ')} and ${last} follow.`
}
