import fc from 'fast-check'
import { afterAll, describe, expect, it } from 'vitest'
import { MINUTE, SECOND } from '#kernel/instant'
import { checkHistory } from '#sale/history/check-history.rules'
import type { LotCommand } from '#sale/history/decide.rules'
import { leastNext, priceOf } from '#sale/price/price.rules'
import { makeKey, makeLot, makeTerms, pounds } from '#test/make/lot-history'
import { verifyHistory } from '#test/verifier/verify-history'

const RUNS = Math.ceil(Number(process.env.LAWS ?? 60_000) / 100)
const BIDDERS = ['2C', '3D', '4F', '5G', '6H']
const CLOSES = 40 * MINUTE
const key = makeKey()
const keys = [Buffer.from(key.raw).toString('base64url')]

/** What both checkers find against a lot's history, in words; nothing where it holds. */
function foundAgainst(lot: ReturnType<typeof makeLot>): string[] {
  const history = JSON.parse(JSON.stringify(lot.history(key)))
  const found = checkHistory(history)
    .filter(({ isSound }) => !isSound)
    .map(({ words }) => words)
  try {
    verifyHistory(history, keys)
  } catch (reason) {
    found.push(String(reason))
  }
  return found
}

describe('an honest history holds, whatever the house knew and a checker does not', () => {
  it('though a maximum that stays sealed was overtaken by a bidder who was voided later', () => {
    const lot = makeLot({ closesAt: CLOSES })
    lot.bid('2C', pounds(60), SECOND)
    lot.bid('3D', pounds(100), 2 * SECOND)
    lot.bid('4F', pounds(400), 3 * SECOND)
    lot.say({ kind: 'void', bidder: '4F', reason: 'Bid in error.' }, 4 * SECOND)
    expect(lot.say({ kind: 'close' }, CLOSES)).toBeNull()
    expect(lot.state.leader?.bidder).toBe('3D')
    expect(foundAgainst(lot)).toEqual([])
  })

  it('though whoever overtook it paid their whole maximum, so that it is known only to within a step', () => {
    const lot = makeLot({ closesAt: CLOSES })
    lot.bid('2C', pounds(60), SECOND)
    lot.bid('3D', pounds(100), 2 * SECOND)
    lot.bid('4F', pounds(103), 3 * SECOND)
    expect(lot.leaves.at(-1)).toMatchObject({ leader: '4F', why: 'cap' })
    lot.say({ kind: 'void', bidder: '4F', reason: 'Bid in error.' }, 4 * SECOND)
    expect(lot.say({ kind: 'close' }, CLOSES)).toBeNull()
    expect(foundAgainst(lot)).toEqual([])
  })

  it('and a house that lets a sealed maximum beat what its own earlier entries rule out is found by both', () => {
    const lot = makeLot({ closesAt: CLOSES })
    lot.bid('2C', pounds(60), SECOND)
    lot.bid('3D', pounds(100), 2 * SECOND)
    lot.bid('4F', pounds(103), 3 * SECOND)
    lot.say({ kind: 'void', bidder: '4F', reason: 'Bid in error.' }, 4 * SECOND)
    lot.bid('5G', pounds(107), 5 * SECOND)
    expect(lot.leaves.at(-1)).toMatchObject({ leader: '5G' })
    lot.say({ kind: 'close' }, CLOSES)
    const [bid, closed, revealed] = lot.leaves.slice(-3)
    if (bid?.kind !== 'bid' || closed?.kind !== 'closed' || revealed?.kind !== 'revealed') throw new Error('not the entries of an end')
    const standing = { leader: '3D', standingMinor: pounds(117) }
    Object.assign(bid, { ...standing, why: 'second' })
    Object.assign(closed, { leader: '3D', hammerMinor: pounds(117) })
    Object.assign(revealed, { sealed: 2, openings: lot.openings.filter(({ sequence }) => sequence !== 2) })
    expect(foundAgainst(lot)).toHaveLength(2)
  })

  const shapes = { ended: 0, voided: 0, overtaken: 0 }
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
  const reserve = fc.option(fc.integer({ min: pounds(1), max: pounds(120) }))

  it('after any day: voids of every kind, chains of bids, holds, outages, extensions, corrections, a withdrawal', () => {
    fc.assert(
      fc.property(ladder, reserve, fc.array(command, { minLength: 6, maxLength: 40 }), (ladder, reserveMinor, commands) => {
        const lot = makeLot({ closesAt: CLOSES, terms: makeTerms({ ladder, reserveMinor }) })
        let now = 2 * SECOND
        const saw = { voided: false, overtaken: false }
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
            if (lot.say(commandOf(what, who, now, state.closesAt ?? 0), now) === null && what === 'void') {
              saw.voided = true
              voided.add(who)
              saw.overtaken ||= wasSecond
            }
          }
        }
        expect(foundAgainst(lot)).toEqual([])
        if (lot.state.phase === 'held') lot.say({ kind: 'resume', shiftMs: now - (lot.state.heldSince ?? now) }, now)
        lot.say({ kind: 'close' }, Math.max(now, lot.state.closesAt ?? 0))
        if (lot.leaves.at(-1)?.kind === 'revealed') shapes.ended++
        if (saw.voided) shapes.voided++
        if (saw.overtaken && lot.state.phase === 'sold') shapes.overtaken++
        expect(foundAgainst(lot)).toEqual([])
      }),
      { numRuns: RUNS },
    )
  }, 3_600_000)

  afterAll(() => {
    expect(shapes.ended, 'days that came to an end').toBeGreaterThan(RUNS * 0.9)
    expect(shapes.overtaken, 'sold after a leader was voided').toBeGreaterThan(RUNS * 0.03)
  })
})

function commandOf(what: string, who: string, now: number, closesAt: number): LotCommand {
  switch (what) {
    case 'void':
      return { kind: 'void', bidder: who, reason: 'Bid in error.' }
    case 'hold':
      return { kind: 'hold', reason: 'The sound is gone.' }
    case 'resume':
      return { kind: 'resume', shiftMs: 5 * MINUTE }
    case 'outage':
      return { kind: 'outage', from: now, to: now + 3 * SECOND, shiftMs: 3 * SECOND }
    case 'extend':
      return { kind: 'extend', closesAt: closesAt + MINUTE, reason: 'A late start.' }
    case 'correct':
      return { kind: 'correct', words: 'The case is beech.' }
    default:
      return { kind: 'withdraw', reason: 'It fell off the bench.' }
  }
}
