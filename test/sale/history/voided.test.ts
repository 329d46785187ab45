import { describe, expect, it } from 'vitest'
import { type Instant, MINUTE, SECOND, toIso } from '#kernel/instant'
import { checkHistory } from '#sale/history/check-history.rules'
import { sayLeaf } from '#sale/history/leaf-words.rules'
import type { Happening } from '#sale/history/leaves.rules'
import { makeKey, makeLot, pounds, theTwo } from '#test/make/lot-history'
import { verifyHistory } from '#test/verifier/verify-history'

/** The history of a lot with one void, signed by its house whatever it says of the two. */
function withVoid(two: (at: Instant) => Happening['two']) {
  const lot = makeLot({ closesAt: 60 * MINUTE, two })
  lot.bid('4K', pounds(60), SECOND)
  lot.bid('9F', pounds(400), 2 * SECOND)
  lot.say({ kind: 'void', bidder: '9F', reason: 'Bid in error.' }, 3 * MINUTE)
  const key = makeKey()
  return { history: lot.history(key), keys: [Buffer.from(key.raw).toString('base64url')], leaf: lot.leaves.at(-1) }
}

const bothFind = ({ history, keys }: ReturnType<typeof withVoid>): [boolean, boolean] => {
  let isSoundByDocument = true
  try {
    verifyHistory(JSON.parse(JSON.stringify(history)), keys)
  } catch {
    isSoundByDocument = false
  }
  return [checkHistory(JSON.parse(JSON.stringify(history))).every(({ isSound }) => isSound), isSoundByDocument]
}

describe('the entry of a void', () => {
  it('with both of the two is sound to both checkers, and says who they were', () => {
    const lot = withVoid(theTwo)
    expect(bothFind(lot)).toEqual([true, true])
    expect(lot.leaf && sayLeaf(lot.leaf, 'GBP')).toContain(
      'asked for by the host at 00:02 UTC, agreed to by the maker at 00:03 UTC: Bid in error.',
    )
  })

  it('that was signed before they were told is sound as well, and says no more than it knows', () => {
    const lot = withVoid(() => undefined)
    expect(bothFind(lot)).toEqual([true, true])
    expect(lot.leaf && sayLeaf(lot.leaf, 'GBP')).toContain('voided by two of the staff: Bid in error.')
  })

  it('by one person alone is found by both checkers', () => {
    const { history, keys, leaf } = withVoid(() => undefined)
    const alone = { ...history, leaves: history.leaves.map((own) => (own.kind === 'voided' ? { ...own, by: 'host' } : own)) }
    expect(bothFind({ history: alone as typeof history, keys, leaf })).toEqual([false, false])
    expect(
      checkHistory(alone as typeof history)
        .filter(({ isSound }) => !isSound)
        .map(({ words }) => words),
    ).toContainEqual(expect.stringContaining('not asked for by one of the staff'))
  })

  const at = 3 * MINUTE
  const one = (by: string, when: Instant) => ({ by, at: toIso(when) })
  it.each([
    ['the first alone', { asked: one('host', at - SECOND) }],
    ['the second alone', { agreed: one('maker', at) }],
    ['a second who agreed before the first asked', { asked: one('host', at + SECOND), agreed: one('maker', at) }],
    [
      'a second who agreed at another time than that of the entry',
      { asked: one('host', at - 2 * SECOND), agreed: one('maker', at - SECOND) },
    ],
    ['a first who asked before the lot opened', { asked: one('host', -SECOND), agreed: one('maker', at) }],
    ['a bidder as one of the two', { asked: one('bidder', at - SECOND), agreed: one('maker', at) }],
    ['a name instead of a role', { asked: one('Wilma', at - SECOND), agreed: one('maker', at) }],
    ['more than role and time', { asked: { ...one('host', at - SECOND), name: 'Wilma' }, agreed: one('maker', at) }],
  ])('with %s is found by both checkers, though the house signed it', (_, two) => {
    expect(bothFind(withVoid(() => two as unknown as Happening['two']))).toEqual([false, false])
  })
})
