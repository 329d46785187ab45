import { appendFileSync, existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import sharp from 'sharp'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { makeBackup, thinBackups } from '#runtime/disk/backup'
import { restoreBackup } from '#runtime/disk/restore'
import { makeCampaign } from '#test/make/campaign'
import { MIGRATIONS } from '#test/make/packed'
import { NOON, openStage, type Stage } from '#test/stage'

let stage: Stage
let dir: string
beforeEach(() => {
  stage = openStage()
  dir = mkdtempSync(join(tmpdir(), 'tagstrip-backup-'))
})
afterEach(() => {
  stage.close()
  rmSync(dir, { recursive: true, force: true })
})

const copyNow = async (at = NOON) => {
  const handle = new Database(join(stage.dir, 'tagstrip.db'), { readonly: true })
  const made = await makeBackup(handle, stage.dir, dir, at)
  handle.close()
  return made
}

const restore = (from: string, dataDir: string, at = NOON) => restoreBackup(from, dataDir, { migrationsDir: MIGRATIONS, at })

const nameIn = (folder: string) => {
  const copy = new Database(join(folder, 'tagstrip.db'), { readonly: true })
  const name = copy.prepare('SELECT name FROM campaign').pluck().get()
  copy.close()
  return name
}

test('a copy that was made while the house is open brings everything back', async () => {
  await makeCampaign(stage, { name: 'Kept Day' })
  const picture = await sharp({ create: { width: 20, height: 10, channels: 3, background: '#97461a' } })
    .png()
    .toBuffer()
  const { sha } = await stage.house.photographs.keep(picture)
  const made = await copyNow()
  const elsewhere = join(dir, 'restored')
  expect(restore(made, elsewhere)).toBeNull()
  expect(nameIn(elsewhere)).toBe('Kept Day')
  expect(existsSync(join(elsewhere, 'photographs', `${sha}-480.webp`))).toBe(true)
  expect(readdirSync(join(elsewhere, 'keys')).sort()).toEqual(readdirSync(join(stage.dir, 'keys')).sort())
})

test('what stood there is moved aside, not deleted', async () => {
  await makeCampaign(stage, { name: 'Before' })
  const made = await copyNow()
  const target = join(dir, 'target')
  restore(made, target)
  const aside = restore(made, target, NOON + 1)
  expect(aside && nameIn(aside)).toBe('Before')
})

test('a copy with one byte too many is refused and nothing is touched', async () => {
  await makeCampaign(stage)
  const made = await copyNow()
  appendFileSync(join(made, 'tagstrip.db'), 'x')
  expect(() => restore(made, join(dir, 'target'))).toThrow('damaged')
  expect(existsSync(join(dir, 'target'))).toBe(false)
})

test('a folder that is no copy is refused in words', () => {
  expect(() => restore(dir, join(dir, 'target'))).toThrow('no manifest.json')
})

test('only the newest copies are kept', async () => {
  for (let n = 0; n < 4; n++) await copyNow(NOON + n * 1000)
  thinBackups(dir, 2)
  expect(readdirSync(dir).sort()).toEqual(['2027-03-13T12-00-02-000Z', '2027-03-13T12-00-03-000Z'])
})
