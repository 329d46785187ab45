import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { restoreBackup } from '#runtime/disk/restore'
import { makeCopy } from '#test/make/copy'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { MIGRATIONS } from '#test/make/packed'
import { NOON, openStage, type Stage } from '#test/stage'

// What was cut off the end of a database leaves no hole in it: the file with its newest heads tells.

let stage: Stage
let beside: string
beforeEach(async () => {
  stage = openStage()
  beside = mkdtempSync(join(tmpdir(), 'tagstrip-heads-'))
  await makeOpenLot(stage, { tag: 'TERN-01' })
})
afterEach(() => {
  stage.close()
  rmSync(beside, { recursive: true, force: true })
})

const noted = () => join(stage.dir, 'heads.json')
const bid = async (name: string, maximum: string) => {
  const { caller } = await makeBidder(stage, name)
  await caller.bidding.place({ lot: 1, maximum, key: `key-of-the-bid-of-${name}` })
}
/** As it ticks: until what was done is noted. */
async function untilNoted() {
  const before = existsSync(noted()) ? readFileSync(noted(), 'utf8') : ''
  stage.house.startTicking()
  await expect.poll(() => (existsSync(noted()) ? readFileSync(noted(), 'utf8') : ''), { timeout: 20_000 }).not.toBe(before)
  stage.house.stopTicking()
}
/** The database as a kill at this moment would leave it, log and all. */
const takeDatabase = (from: string, to: string) => {
  for (const end of ['', '-wal']) cpSync(join(from, `tagstrip.db${end}`), join(to, `tagstrip.db${end}`))
}
const open = (dir: string, mayLoseLog = false) => openStage({ dir, mayLoseLog, now: stage.clock.now() }).house.close()

test('a log that was cut short is noticed at the start, with what is missing, and opens only for whoever lets go of it', async () => {
  const [dir, keys] = [join(beside, 'house'), join(stage.dir, 'keys')]
  mkdirSync(dir)
  cpSync(keys, join(dir, 'keys'), { recursive: true })
  await bid('Ada', '50')
  takeDatabase(stage.dir, dir)
  await bid('Ben', '60')
  await bid('Cem', '70')
  await untilNoted()
  cpSync(noted(), join(dir, 'heads.json'))
  const before = readFileSync(join(dir, 'tagstrip.db'))
  expect(() => open(dir)).toThrow(
    /has lost what it held at 2027-.*: of lot 1 it held \d+ entries, and \d+ are there; the last \d+ things that happened\. Its log was cut short/,
  )
  expect(() => open(dir)).toThrow('npm run restore -- folder')
  expect(readFileSync(join(dir, 'tagstrip.db')).equals(before)).toBe(true)
  // Without the log as a whole.
  truncateSync(join(dir, 'tagstrip.db-wal'))
  expect(() => open(dir)).toThrow('has lost what it held')
  rmSync(join(dir, 'tagstrip.db'))
  expect(() => open(dir)).toThrow('has lost what it held at 2027-')
  takeDatabase(stage.dir, dir)
  open(dir)
  open(dir, true)
})

test('it opens for whoever lets go of what is missing, and notes anew from there', async () => {
  const dir = join(beside, 'house')
  mkdirSync(dir)
  cpSync(join(stage.dir, 'keys'), join(dir, 'keys'), { recursive: true })
  takeDatabase(stage.dir, dir)
  await bid('Ada', '50')
  await untilNoted()
  cpSync(noted(), join(dir, 'heads.json'))
  expect(() => open(dir)).toThrow('has lost')
  const again = openStage({ dir, mayLoseLog: true, now: stage.clock.now() })
  again.house.startTicking()
  await expect.poll(() => readFileSync(join(dir, 'heads.json'), 'utf8'), { timeout: 20_000 }).not.toBe(readFileSync(noted(), 'utf8'))
  again.house.close()
  open(dir)
})

test('an older copy that is put back on purpose comes without it', async () => {
  const copy = await makeCopy(stage.dir, join(beside, 'copies'), NOON)
  expect(existsSync(join(copy, 'heads.json'))).toBe(false)
  await bid('Ada', '50')
  await untilNoted()
  stage.house.close()
  const former = restoreBackup(copy, stage.dir, { migrationsDir: MIGRATIONS, at: NOON })
  expect(existsSync(noted())).toBe(false)
  expect(existsSync(join(former ?? '', 'heads.json'))).toBe(true)
  open(stage.dir)
})

test('what is altered in the middle, of another house or unreadable is told apart', async () => {
  await bid('Ada', '50')
  await untilNoted()
  const text = readFileSync(noted(), 'utf8')
  const of = JSON.parse(text) as { house: string; heads: { root: string; size: number }[] }
  stage.house.close()
  writeFileSync(noted(), JSON.stringify({ ...of, heads: of.heads.map((head) => ({ ...head, root: '0'.repeat(64) })) }))
  expect(() => open(stage.dir)).toThrow(/the first \d+ entries of lot 1 are others now/)
  writeFileSync(noted(), JSON.stringify({ ...of, house: 'another', heads: [{ lotId: 'l', lot: 9, size: 99, root: '' }] }))
  open(stage.dir)
  writeFileSync(noted(), text.slice(0, 40))
  open(stage.dir)
})

test('a bid does not wait for it: what is noted was committed, at most a second before', async () => {
  await untilNoted()
  await bid('Ada', '50')
  const { seq } = JSON.parse(readFileSync(noted(), 'utf8')) as { seq: number }
  const handle = new Database(join(stage.dir, 'tagstrip.db'), { readonly: true })
  expect(Number(handle.prepare('SELECT max(seq) FROM fact').pluck().get())).toBeGreaterThan(seq)
  handle.close()
  await untilNoted()
  expect((JSON.parse(readFileSync(noted(), 'utf8')) as { seq: number }).seq).toBeGreaterThan(seq)
})
