import { readdirSync, rmSync, writeFileSync } from 'node:fs'
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

test('keys beside no database, or an empty one, open nothing: what signs with them would pass for the house that was there', () => {
  const stage = openStage()
  stage.house.close()
  const file = join(stage.dir, 'tagstrip.db')
  for (const name of readdirSync(stage.dir).filter((one) => one.startsWith('heads.json') || one.startsWith('tagstrip.db')))
    rmSync(join(stage.dir, name))
  expect(() => openStage({ dir: stage.dir })).toThrow(/no database beside them.*is not there.*npm run restore/)
  writeFileSync(file, '', { mode: 0o600 })
  expect(() => openStage({ dir: stage.dir })).toThrow(/is empty/)
  rmSync(file)
  rmSync(join(stage.dir, 'keys'), { recursive: true })
  openStage({ dir: stage.dir }).close()
})
