import { afterAll, beforeAll, expect, test } from 'vitest'
import { openToldHouse } from '#test/make/told-house'
import type { Stage } from '#test/stage'

let stage: Stage
beforeAll(async () => {
  stage = await openToldHouse()
}, 120_000)
afterAll(() => stage.close())

test('the list of changes says of each lot of the demo that it sold when its clock ran out, late bids and holds counted', async () => {
  const { lots } = await stage.visitor().bidding.frames()
  const ended = lots.filter(({ state }) => state === 'sold')
  const changes = (await stage.visitor().programme.changes())?.changes ?? []
  const sold = changes.flatMap(({ kind, lot, at }) => (kind === 'sold' ? [[lot, at]] : []))
  expect(ended.some(({ extendedTimes }) => extendedTimes > 0)).toBe(true)
  expect(Object.fromEntries(sold)).toEqual(Object.fromEntries(ended.map(({ number, closesAt }) => [number, closesAt])))
})
