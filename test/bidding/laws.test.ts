import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { LotCommand } from '../../server/bidding/decide.rules'
import { stepAt } from '../../server/bidding/ladder.rules'
import { priceOf } from '../../server/bidding/price.rules'
import { replay } from '../../server/bidding/replay.rules'
import { MINUTE, SECOND } from '../../server/kernel/instant'
import { makeLot, makeTerms } from '../make/lot-history'

const RUNS = { numRuns: 150 }
const bidders = ['2C', '3D', '4F', '5G']
const amount = fc.integer({ min: 1, max: 150_000 })
const command: fc.Arbitrary<LotCommand | 'bid'> = fc.oneof(
  { weight: 12, arbitrary: fc.constant('bid' as const) },
  { weight: 1, arbitrary: fc.constant<LotCommand>({ kind: 'hold', reason: 'Sound.' }) },
  { weight: 2, arbitrary: fc.integer({ min: 0, max: 15 * MINUTE }).map((shiftMs): LotCommand => ({ kind: 'resume', shiftMs })) },
  { weight: 1, arbitrary: fc.constantFrom(...bidders).map((bidder): LotCommand => ({ kind: 'void', bidder, reason: 'In error.' })) },
  { weight: 1, arbitrary: fc.constant<LotCommand>({ kind: 'close' }) },
)
const move = fc.record({
  command,
  bidder: fc.constantFrom(...bidders),
  maximumMinor: amount,
  wait: fc.integer({ min: 0, max: 150 * SECOND }),
})
const day = fc.record({
  moves: fc.array(move, { maxLength: 40 }),
  openingMinor: amount,
  reserveMinor: fc.option(amount),
  closesAt: fc.integer({ min: 1, max: 20 * MINUTE }),
})

/** Lives through a day at random and calls `look` after each command with what it was and whether it was taken. */
function live(
  { moves, openingMinor, reserveMinor, closesAt }: typeof day extends fc.Arbitrary<infer D> ? D : never,
  look: (lot: ReturnType<typeof makeLot>, step: { kind: string; isTaken: boolean; now: number; before: ReturnType<typeof replay> }) => void,
) {
  const lot = makeLot({ terms: makeTerms({ openingMinor, reserveMinor }), closesAt })
  let now = 0
  for (const { command, bidder, maximumMinor, wait } of moves) {
    now += wait
    const before = lot.state
    const words = command === 'bid' ? lot.bid(bidder, maximumMinor, now) : lot.say(command, now)
    look(lot, { kind: command === 'bid' ? 'bid' : command.kind, isTaken: words === null, now, before })
  }
  return lot
}

describe('whatever happens in a day', () => {
  it('the standing bid never falls but at a void', () => {
    fc.assert(
      fc.property(day, (given) => {
        live(given, (lot, { kind, before }) => {
          if (kind !== 'void')
            expect(priceOf(lot.terms, lot.state)?.priceMinor ?? 0).toBeGreaterThanOrEqual(priceOf(lot.terms, before)?.priceMinor ?? 0)
        })
      }),
      RUNS,
    )
  })

  it('nobody pays more than their own maximum, nor more than the greatest of opening, reserve reached and one step over the second', () => {
    fc.assert(
      fc.property(day, (given) => {
        live(given, ({ terms, state }) => {
          const price = priceOf(terms, state)
          if (!price || !state.leader) return
          expect(price.priceMinor).toBeLessThanOrEqual(state.leader.maximumMinor)
          const over = state.second ? state.second.maximumMinor + stepAt(terms.ladder, state.second.maximumMinor) : 0
          const reserve = terms.reserveMinor !== null && state.leader.maximumMinor >= terms.reserveMinor ? terms.reserveMinor : 0
          expect(price.priceMinor).toBeLessThanOrEqual(Math.max(terms.openingMinor, over, reserve))
        })
      }),
      RUNS,
    )
  })

  it('the highest maximum leads, and of equal ones the one that arrived first', () => {
    fc.assert(
      fc.property(day, (given) => {
        const lot = live({ ...given, moves: given.moves.filter(({ command }) => command === 'bid') }, () => undefined)
        const bids = lot.facts.flatMap((fact) => (fact.kind === 'bid' ? [fact] : []))
        const highest = Math.max(0, ...bids.map(({ maximumMinor }) => maximumMinor))
        expect(lot.state.leader?.bidder ?? null).toBe(bids.find(({ maximumMinor }) => maximumMinor === highest)?.bidder ?? null)
      }),
      RUNS,
    )
  })

  it('no bid is taken at or after the closing, on hold, or after the end', () => {
    fc.assert(
      fc.property(day, (given) => {
        live(given, (_, { kind, isTaken, now, before }) => {
          if (kind === 'bid' && isTaken) expect([before.phase, now < (before.closesAt ?? 0)]).toEqual(['open', true])
        })
      }),
      RUNS,
    )
  })

  it('a closing never moves earlier', () => {
    fc.assert(
      fc.property(day, (given) => {
        live(given, (lot, { before }) => expect(lot.state.closesAt ?? 0).toBeGreaterThanOrEqual(before.closesAt ?? 0))
      }),
      RUNS,
    )
  })

  it('replaying the facts gives the same state, and a refusal leaves no trace', () => {
    fc.assert(
      fc.property(day, (given) => {
        const lot = live(given, (after, { isTaken, before }) => {
          if (!isTaken) expect(after.state).toBe(before)
        })
        expect(replay(lot.terms, lot.facts)).toEqual(lot.state)
      }),
      RUNS,
    )
  })
})
