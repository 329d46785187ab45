import fc from 'fast-check'
import { MINUTE, SECOND } from '#kernel/instant'
import type { LotCommand } from '#sale/history/decide.rules'
import { afterStanding } from '#sale/price/closing.rules'
import { leastNext, priceOf } from '#sale/price/price.rules'
import { makeLot, makeTerms, pounds } from './lot-history'

const BIDDERS = ['2C', '3D', '4F', '5G', '6H']

const command = fc.record({
  what: fc.constantFrom('bid', 'bid', 'bid', 'bid', 'bid', 'bid', 'void', 'hold', 'resume', 'outage', 'extend', 'correct', 'withdraw'),
  who: fc.constantFrom(...BIDDERS),
  over: fc.oneof(fc.constantFrom(0, 1, pounds(1), pounds(2)), fc.integer({ min: 0, max: pounds(150) })),
  wait: fc.oneof(fc.integer({ min: 0, max: 4 * MINUTE }), fc.constantFrom(0, 1, 119_999)),
  rare: fc.integer({ min: 0, max: 19 }),
})
const ladder = fc.constantFrom(
  makeTerms().ladder,
  [{ fromMinor: 0, stepMinor: 1 }],
  [
    { fromMinor: 0, stepMinor: 3 },
    { fromMinor: 2_001, stepMinor: 700 },
    { fromMinor: 9_000, stepMinor: 5_000 },
  ],
)
/** A closing that is reached in most days, in some, or in none. */
const closesAt = fc.constantFrom(8 * MINUTE, 16 * MINUTE, 40 * MINUTE, 40 * MINUTE)
const reserveMinor = fc.option(fc.integer({ min: pounds(1), max: pounds(120) }))

/** What happens to a lot on one day: voids of every kind, bids upon bids, holds, outages, extensions, corrections, a withdrawal. */
export const anyDay = fc.record({ ladder, reserveMinor, closesAt, commands: fc.array(command, { minLength: 6, maxLength: 40 }) })
type Day = typeof anyDay extends fc.Arbitrary<infer T> ? T : never

/** A lot on such a day, not ended yet unless it was withdrawn, and what happened to it. */
export function liveThrough({ ladder, reserveMinor, closesAt, commands }: Day) {
  const lot = makeLot({ closesAt, terms: makeTerms({ ladder, reserveMinor }) })
  let now = 2 * SECOND
  const saw = { voided: false, overtaken: false, wentDownBeforeClosing: false }
  const voided = new Set<string>()
  for (const { what, who: drawn, over, wait, rare } of commands) {
    now += wait
    // Who was voided bids no more; another takes their place. Only who has bid is voided.
    const who = voided.has(drawn) ? `${drawn}Z` : drawn
    if (voided.has(who) || (what === 'void' && !lot.openings.some(({ alias }) => alias === who))) continue
    const { state } = lot
    const own = state.leader?.bidder === who ? (state.leader?.maximumMinor ?? 0) : 0
    const least = Math.max(leastNext(lot.terms, priceOf(lot.terms, state)?.priceMinor ?? null), own)
    if (what === 'bid') lot.bid(who, least + over, now)
    else if (what !== 'withdraw' || rare === 0) {
      const wasSecond = what === 'void' && state.leader?.bidder === who && state.second !== null
      // The house may have done its last thing in the second in which it noted that it was alive.
      const silentFrom = now - wait - (rare < 5 ? 999 : 0)
      if (lot.say(commandOf(what, who, now, { closesAt: state.closesAt ?? 0, silentFrom }), now) !== null) continue
      if (what === 'outage') saw.wentDownBeforeClosing ||= now >= (state.closesAt ?? 0)
      if (what !== 'void') continue
      saw.voided = true
      voided.add(who)
      saw.overtaken ||= wasSecond
    }
  }
  return { lot, now, saw }
}

/** The clock goes on if it stands still, and the lot closes. */
export function endDay({ lot, now }: ReturnType<typeof liveThrough>): void {
  if (lot.state.phase === 'held') lot.say({ kind: 'resume', shiftMs: now - (lot.state.heldSince ?? now) }, now)
  lot.say({ kind: 'close' }, Math.max(now, lot.state.closesAt ?? 0))
}

function commandOf(what: string, who: string, now: number, { closesAt, silentFrom }: { closesAt: number; silentFrom: number }): LotCommand {
  switch (what) {
    case 'void':
      return { kind: 'void', bidder: who, reason: 'Bid in error.' }
    case 'hold':
      return { kind: 'hold', reason: 'The sound is gone.' }
    case 'resume':
      return { kind: 'resume', shiftMs: 5 * MINUTE }
    case 'outage':
      return { kind: 'outage', from: silentFrom, to: now, shiftMs: afterStanding(closesAt, silentFrom, now) - closesAt }
    case 'extend':
      return { kind: 'extend', closesAt: closesAt + MINUTE, reason: 'A late start.' }
    case 'correct':
      return { kind: 'correct', words: 'The case is beech.' }
    default:
      return { kind: 'withdraw', reason: 'It fell off the bench.' }
  }
}
