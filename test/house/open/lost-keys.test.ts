import { readdirSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { makeOpenLot } from '#test/make/lot'
import { openStage } from '#test/stage'

test('a house that has signed and finds none of its keys is refused, so that it calls nothing of its own forged', async () => {
  const stage = openStage()
  await makeOpenLot(stage)
  stage.house.close()
  const keys = join(stage.dir, 'keys')
  for (const name of readdirSync(keys).filter((one) => one.endsWith('.pem'))) rmSync(join(keys, name))
  expect(() => openStage({ dir: stage.dir })).toThrow(/signing keys of this house are missing.*backup/)
  expect(readdirSync(keys).filter((one) => one.endsWith('.pem'))).toEqual([])
})
