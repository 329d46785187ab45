import { afterEach, expect, test } from 'vitest'
import { warmUp } from '#house/open/warm-up'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

/** How many rows each table of the house holds. */
function rowsOf({ db }: Stage): Record<string, number> {
  const { $client } = db
  const tables = $client.prepare("SELECT name FROM sqlite_schema WHERE type = 'table'").pluck().all() as string[]
  return Object.fromEntries(tables.map((name) => [name, Number($client.prepare(`SELECT count(*) FROM "${name}"`).pluck().get())]))
}

test('bids on a lot that never was are answered as bids are, and leave nothing in the house', async () => {
  stage = openStage()
  await makeOpenLot(stage)
  const { house } = stage
  const before = { rows: rowsOf(stage), changes: house.changes() }
  let heard = 0
  house.hearFirst((facts) => {
    heard += facts.length
  })
  expect(await warmUp(house, { enough: 64, afterMs: 0 }).done).toBe(64)
  expect({ rows: rowsOf(stage), changes: house.changes() }).toEqual(before)
  expect(heard).toBe(0)
  expect(stage.letters()).toEqual([])
})

test('the first real bid ends them, and so does the end of the house', async () => {
  stage = openStage()
  const { number } = await makeOpenLot(stage)
  const bidder = await makeBidder(stage, 'Ines')
  const never = Number.POSITIVE_INFINITY
  const warming = warmUp(stage.house, { enough: never, afterMs: 0 })
  expect(await bidder.bid(number, '40')).toMatchObject({ leads: true, lot: number })
  expect(await warming.done).toBeLessThan(1_000)
  const next = warmUp(stage.house, { enough: never, afterMs: 0 })
  next.stop()
  expect(await next.done).toBe(0)
})

test('a lot of the house is bid on beside them as if they were not', async () => {
  stage = openStage()
  const { number } = await makeOpenLot(stage)
  const bidder = await makeBidder(stage, 'Ines')
  await warmUp(stage.house, { enough: 16, afterMs: 0 }).done
  const { receipt, standingMinor } = await bidder.bid(number, '40')
  expect(receipt.opening).toMatchObject({ lot: number, sequence: 1, amountMinor: 4_000 })
  expect(standingMinor).toBe(2_000)
})
