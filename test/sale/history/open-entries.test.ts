import { describe, expect, it } from 'vitest'
import { MINUTE, SECOND, toIso } from '#kernel/instant'
import { checkHistory } from '#sale/history/check-history.rules'
import { makeKey, makeLot, makeTerms, pounds } from '#test/make/lot-history'
import { verifyHistory } from '#test/verifier/verify-history'

const CLOSES = 60 * MINUTE
const key = makeKey()
const keys = [Buffer.from(key.raw).toString('base64url')]

type Lot = ReturnType<typeof makeLot>
/** What each checker finds, though the house signed it: here in words, there as a yes or no. */
function found(lot: Lot): [string, boolean] {
  const history = JSON.parse(JSON.stringify(lot.history(key)))
  const words = checkHistory(history).find(({ isSound }) => !isSound)?.words ?? 'nothing'
  try {
    verifyHistory(history, keys)
    return [words, false]
  } catch {
    return [words, true]
  }
}

/** An open lot, and one of its entries made to say something else before the house signs. */
function openLot(entry: number, change: object, { reserve = false, ended = false } = {}): Lot {
  const lot = makeLot({ closesAt: CLOSES, terms: makeTerms(reserve ? { reserveMinor: pounds(500) } : {}) })
  lot.bid('4K', pounds(60), SECOND)
  lot.bid('7R', pounds(150), 2 * SECOND)
  lot.bid('7R', pounds(180), 3 * SECOND)
  lot.say({ kind: 'hold', reason: 'Sound.' }, CLOSES - 5 * MINUTE)
  lot.say({ kind: 'resume', shiftMs: 10 * SECOND }, CLOSES - 5 * MINUTE + 10 * SECOND)
  lot.bid('9F', pounds(400), CLOSES)
  lot.say({ kind: 'void', bidder: '9F', reason: 'Bid in error.' }, CLOSES + SECOND)
  lot.say({ kind: 'extend', closesAt: CLOSES + 40 * MINUTE, reason: 'The guest is still talking.' }, CLOSES + 2 * SECOND)
  if (ended) lot.say({ kind: 'close' }, CLOSES + 40 * MINUTE)
  Object.assign(lot.leaves[entry - 1] ?? {}, change)
  return lot
}

describe('a lot that is still open', () => {
  it('holds for both checkers as the house wrote it', () => {
    expect(found(openLot(1, {}))).toEqual(['nothing', false])
    expect(found(openLot(1, {}, { reserve: true }))).toEqual(['nothing', false])
  })

  it.each<[string, number, object, string]>([
    [
      'a standing bid under the opening price',
      2,
      { standingMinor: pounds(19) },
      'a bid of somebody else raises the standing bid by a step',
    ],
    ['“reserve” without one', 3, { why: 'reserve' }, '“reserve” takes a reserve, and there is none'],
    ['“second” with one bidder', 2, { why: 'second' }, '“second” takes a second bidder'],
    ['“cap” with one bidder', 2, { why: 'cap' }, '“cap” takes a second bidder'],
    ['“opening” above the opening price', 2, { standingMinor: pounds(30) }, '“opening” is the opening price'],
    ['“opening” with two bidders', 3, { why: 'opening', standingMinor: pounds(20) }, 'a bid of somebody else raises'],
    ['a leader who did not bid', 2, { leader: '9F' }, 'only who led before or who bids can lead'],
    ['nobody who leads after a bid', 2, { leader: null, standingMinor: null, why: null }, 'a bid of somebody else raises'],
    ['a leader who bids against themselves', 4, { standingMinor: pounds(90) }, 'does not bid against themselves'],
    ['a leader without a bid that counts', 9, { leader: '9F' }, 'who leads has no bid that counts'],
    ['a late bid that moves the closing too far', 7, { closesAt: toIso(CLOSES + 9 * MINUTE) }, 'moved the closing earlier'],
    ['a void that moves the closing too little', 9, { closesAt: toIso(CLOSES + 3 * MINUTE) }, 'the closing would be another'],
    ['a void of somebody who never bid', 9, { alias: '2C' }, 'nobody had bid under the alias'],
    ['a reserve that is committed to, and none', 1, { reserveCommitment: 'ab'.repeat(32) }, 'a reserve is committed to where there is one'],
    ['somebody’s name where what they are belongs', 5, { by: 'Ada Lund' }, 'leaves.4.by is not as it should be'],
    [
      'a clock that goes on with less time than was left',
      6,
      { shiftMs: 5 * SECOND, closesAt: toIso(CLOSES + 5 * SECOND) },
      'with too little time',
    ],
  ])('with %s is found by both', (_, entry, change, words) => {
    const [here, there] = found(openLot(entry, change))
    expect(here).toContain(words)
    expect(there).toBe(true)
  })

  it('with a price that is no step over any amount is found by both', () => {
    const lot = openLot(3, { standingMinor: pounds(107) })
    Object.assign(lot.leaves[3] ?? {}, { standingMinor: pounds(107) })
    expect(found(lot)).toEqual(['Entry 3 (bid): no bid that the rule takes has its step at this price.', true])
  })

  it('with an outage that ends before it begins is found by both', () => {
    const lot = openLot(1, {})
    const at = CLOSES + 3 * SECOND
    lot.say({ kind: 'outage', from: at - SECOND, to: at, shiftMs: SECOND }, at)
    expect(found(lot)).toEqual(['nothing', false])
    Object.assign(lot.leaves.at(-1) ?? {}, { from: toIso(at), to: toIso(at - SECOND) })
    expect(found(lot)).toEqual([expect.stringContaining('(outage) ends before it begins'), true])
  })

  it.each(['held', 'resumed'])('with “%s” twice is found by both', (kind) => {
    const lot = openLot(1, {})
    const at = lot.leaves.findIndex((leaf) => leaf.kind === kind)
    lot.leaves.splice(at, 0, ...lot.leaves.slice(at, at + 1))
    const [here, there] = found(lot)
    expect(here).toContain(kind === 'held' ? 'on hold already' : 'not on hold')
    expect(there).toBe(true)
  })

  it('in which a voided alias bids again is found by both, and so it is after the end', () => {
    for (const ended of [false, true]) {
      const lot = openLot(1, {})
      lot.bid('9F', pounds(500), CLOSES + 3 * SECOND)
      if (ended) lot.say({ kind: 'close' }, CLOSES + 60 * MINUTE)
      expect(found(lot)).toEqual([expect.stringContaining('whose bids were voided bids no more'), true])
    }
  })
})

it('maxima that are opened in another order than they came are found by both', () => {
  const lot = openLot(1, {}, { ended: true })
  expect(found(lot)).toEqual(['nothing', false])
  const revealed = lot.leaves.at(-1)
  if (revealed?.kind === 'revealed') revealed.openings.reverse()
  expect(found(lot)).toEqual(['The maxima are not opened in the order in which they were bid.', true])
})
