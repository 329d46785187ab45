import { expect, test } from 'vitest'
import { MINUTE, SECOND } from '#kernel/instant'
import { checkHistory } from '#sale/history/check-history.rules'
import { leastRaise } from '#sale/price/price.rules'
import { makeKey, makeLot, makeTerms, pounds } from '#test/make/lot-history'
import { verifyHistory } from '#test/verifier/verify-history'

const CLOSES = 60 * MINUTE

test('a leader raises by a step of the ladder at least: a penny less is refused with what to write, the step is taken', () => {
  const lot = makeLot({ closesAt: CLOSES })
  lot.bid('4K', pounds(60), SECOND)
  expect(leastRaise(lot.terms, pounds(60))).toBe(pounds(65))
  expect(lot.bid('4K', pounds(60.01), 2 * SECOND)).toBe(
    'You lead already and allow up to £60.00. Raise it by a step at least, to £65.00 or more.',
  )
  expect(lot.bid('4K', pounds(64.99), 2 * SECOND)).toContain('£65.00 or more')
  expect(lot.bid('4K', pounds(65), 2 * SECOND)).toBeNull()
  expect(lot.bid('4K', pounds(65), 2 * SECOND)).toContain('A maximum can be raised, never lowered')
  expect(lot.openings).toHaveLength(2)
})

test('the step is that of the maximum which is raised, not of the price that is shown', () => {
  const lot = makeLot({ closesAt: CLOSES })
  lot.bid('4K', pounds(600), SECOND)
  expect(lot.state.leader?.maximumMinor).toBe(pounds(600))
  expect(lot.bid('4K', pounds(610), 2 * SECOND)).toContain('£625.00 or more')
  expect(lot.bid('4K', pounds(625), 2 * SECOND)).toBeNull()
})

test('whoever does not lead is asked for the least bid, as before', () => {
  const lot = makeLot({ closesAt: CLOSES })
  lot.bid('4K', pounds(60), SECOND)
  lot.bid('7R', pounds(50), 2 * SECOND)
  expect(lot.bid('7R', pounds(55.01), 3 * SECOND)).toBe('Your bid must be at least £60.00.')
  expect(lot.bid('7R', pounds(60), 3 * SECOND)).toBeNull()
})

test('a history of an earlier house, with raises of a penny, holds for both checkers', () => {
  const lot = makeLot({ closesAt: CLOSES, terms: makeTerms({ reserveMinor: pounds(100) }), isLax: true })
  lot.bid('4K', pounds(60), SECOND)
  for (let n = 1; n <= 20; n++) lot.bid('4K', pounds(60) + n, (1 + n) * SECOND)
  lot.bid('7R', pounds(150), 30 * SECOND)
  lot.bid('7R', pounds(150.01), 31 * SECOND)
  expect(lot.say({ kind: 'close' }, CLOSES)).toBeNull()
  const key = makeKey()
  const history = JSON.parse(JSON.stringify(lot.history(key)))
  expect(checkHistory(history).filter(({ isSound }) => !isSound)).toEqual([])
  const { x } = key.publicKey.export({ format: 'jwk' })
  expect(() => verifyHistory(history, [x ?? ''])).not.toThrow()
})
