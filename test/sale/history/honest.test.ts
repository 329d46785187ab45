import fc from 'fast-check'
import { afterAll, describe, expect, it } from 'vitest'
import { MINUTE, SECOND } from '#kernel/instant'
import { checkHistory } from '#sale/history/check-history.rules'
import { makeKey, makeLot, pounds } from '#test/make/lot-history'
import { anyDay, endDay, liveThrough } from '#test/make/random-day'
import { verifyHistory } from '#test/verifier/verify-history'

const RUNS = Math.ceil(Number(process.env.LAWS ?? 60_000) / 100)
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

  const shapes = { ended: 0, voided: 0, overtaken: 0, silent: 0 }

  it('after any day: voids of every kind, chains of bids, holds, outages, extensions, corrections, a withdrawal', () => {
    fc.assert(
      fc.property(anyDay, (given) => {
        const day = liveThrough(given)
        const { lot, saw } = day
        expect(foundAgainst(lot)).toEqual([])
        endDay(day)
        if (lot.leaves.at(-1)?.kind === 'revealed') shapes.ended++
        if (saw.voided) shapes.voided++
        if (saw.wentDownBeforeClosing) shapes.silent++
        if (saw.overtaken && lot.state.phase === 'sold') shapes.overtaken++
        expect(foundAgainst(lot)).toEqual([])
      }),
      { numRuns: RUNS },
    )
  }, 3_600_000)

  afterAll(() => {
    expect(shapes.ended, 'days that came to an end').toBeGreaterThan(RUNS * 0.9)
    expect(shapes.silent, 'silent when the closing came').toBeGreaterThan(0)
    expect(shapes.overtaken, 'sold after a leader was voided').toBeGreaterThan(RUNS * 0.03)
  })
})
