import { renameSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { makeOpenLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => {
  stage.close()
  rmSync(`${stage.dir}-away`, { recursive: true, force: true })
})

const bidder = async () => {
  const ada = await stage.as('bidder', 'Ada')
  await ada.people.takePaddle({ name: 'Ada', country: 'GB', acceptsRules: true })
  return ada
}

test('no bid is acknowledged into a folder that was moved, and the house goes on when it is back', async () => {
  const { number: lot } = await makeOpenLot(stage)
  const ada = await bidder()
  renameSync(stage.dir, `${stage.dir}-away`)
  await expect(ada.bidding.place({ lot, key: 'a-bid-into-nothing-1', maximum: '40' })).rejects.toThrow('not where it was opened')
  expect(stage.house.trouble()).toContain('Whoever runs the machine has to put it back')
  renameSync(`${stage.dir}-away`, stage.dir)
  await ada.bidding.place({ lot, key: 'a-bid-that-is-kept-1', maximum: '40' })
  expect(stage.house.trouble()).toBeNull()
})

test('nor where another file was put over the database', async () => {
  const { number: lot } = await makeOpenLot(stage)
  const ada = await bidder()
  const file = join(stage.dir, 'tagstrip.db')
  renameSync(file, `${stage.dir}-away`)
  writeFileSync(file, 'another one')
  await expect(ada.bidding.place({ lot, key: 'a-bid-into-nothing-2', maximum: '40' })).rejects.toThrow('not where it was opened')
  renameSync(`${stage.dir}-away`, file)
})
