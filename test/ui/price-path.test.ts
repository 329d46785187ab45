import { expect, test } from 'vitest'
import { pricePathOf, sayPath, thinned } from '#app/_ui/price-path.rules.ts'
import { SECOND } from '#kernel/instant'
import { makeLot, pounds } from '#test/make/lot-history'

function longHistory(bids: number) {
  const lot = makeLot()
  for (let n = 0; n < bids; n++) lot.bid(n % 2 === 0 ? '4K' : '7R', pounds(20) + n * pounds(60), (n + 1) * SECOND)
  return lot.history()
}

test('a path of more steps than a picture shows keeps its first, its last, and others evenly apart', () => {
  const path = pricePathOf(longHistory(620))
  const drawn = thinned(path, 200)
  expect(path.points).toHaveLength(620)
  expect(drawn.points).toHaveLength(200)
  expect(drawn.points[0]).toBe(path.points[0])
  expect(drawn.points.at(-1)).toBe(path.points.at(-1))
  const gaps = drawn.points.slice(1).map(({ entry }, index) => entry - (drawn.points[index]?.entry ?? 0))
  expect(Math.max(...gaps) - Math.min(...gaps)).toBeLessThanOrEqual(1)
})

test('what is said of it counts all bids, drawn or not', () => {
  const path = pricePathOf(longHistory(620))
  const show = (amount: number) => `£${amount / 100}`
  expect(sayPath(thinned(path, 200), show)).toBe(sayPath(path, show))
  expect(sayPath(thinned(path, 200), show)).toContain('620 bids')
})

test('a short path is drawn whole', () => {
  const path = pricePathOf(longHistory(9))
  expect(thinned(path, 200)).toBe(path)
})
