import { existsSync, mkdirSync, mkdtempSync, readdirSync, renameSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { openKeys } from '#runtime/disk/keys'
import { type Elsewhere, openElsewhere } from '#runtime/elsewhere/elsewhere'
import { readConfig } from '#runtime/settings/config'
import { openLog } from '#runtime/settings/log'

let dir: string
let handle: Database.Database
let copying: Elsewhere | null = null
let writing: NodeJS.Timeout
beforeEach(() => {
  dir = mkdtempSync(join(tmpdir(), 'tagstrip-anew-'))
  mkdirSync(join(dir, 'house'))
  mkdirSync(join(dir, 'place'))
  openKeys(join(dir, 'house', 'keys'))
  handle = new Database(join(dir, 'house', 'tagstrip.db'))
  handle.pragma('journal_mode = wal')
  handle.exec("CREATE TABLE migration (name TEXT); INSERT INTO migration VALUES ('0001-a.sql'); CREATE TABLE beat (n INTEGER)")
  // As an open house does all the time.
  writing = setInterval(() => handle.exec('INSERT INTO beat VALUES (1)'), 100)
})
afterEach(async () => {
  clearInterval(writing)
  await copying?.stop()
  handle.close()
  rmSync(dir, { recursive: true, force: true })
})

const open = () => {
  copying = openElsewhere({
    dataDir: join(dir, 'house'),
    copy: {
      to: { kind: 'folder', path: join(dir, 'place') },
      passphrase: { words: 'five small boats at anchor' },
      means: readConfig({ NODE_ENV: 'test' }).copyMeans,
    },
    handle,
    isNamed: () => true,
    log: openLog('silent'),
  })
  copying.start()
}
const generations = (): string[] => {
  const there = join(dir, 'place', 'database', 'generations')
  return existsSync(there) ? readdirSync(there).filter((one) => existsSync(join(there, one, 'snapshots'))) : []
}
const isWhole = () =>
  existsSync(join(dir, 'place', 'keys.age')) &&
  generations().length > 0 &&
  copying?.state().ageSeconds != null &&
  copying.state().trouble === null

test('where the contents of its folder are taken away, a new copy is begun, whatever was written there meanwhile', async () => {
  open()
  await expect.poll(isWhole, { timeout: 20_000, interval: 100 }).toBe(true)
  const [before] = generations()
  renameSync(join(dir, 'place'), join(dir, 'taken away'))
  mkdirSync(join(dir, 'place'))
  // Before the house has missed its mark, Litestream writes into the new folder.
  await expect.poll(() => existsSync(join(dir, 'place', 'database')), { timeout: 10_000, interval: 50 }).toBe(true)
  await expect.poll(() => generations().some((one) => one !== before) && isWhole(), { timeout: 40_000, interval: 200 }).toBe(true)
  expect(readdirSync(join(dir, 'place')).sort()).toEqual(['database', 'house.json', 'keys.age'])
}, 80_000)
