import { createHash } from 'node:crypto'
import { cpSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { Encrypter } from 'age-encryption'
import Database from 'better-sqlite3'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { DATABASE } from '#runtime/disk/house-files'
import { restoreBackup } from '#runtime/disk/restore'
import { type Elsewhere, openElsewhere } from '#runtime/elsewhere/elsewhere'
import { fetchCopy } from '#runtime/elsewhere/fetch-copy'
import { readConfig } from '#runtime/settings/config'
import { openLog } from '#runtime/settings/log'
import { MIGRATIONS } from '#test/make/packed'
import { openStage } from '#test/stage'

// One small house with its copy, made once; each test damages a copy of that copy.
const PASSPHRASE = 'five small boats at anchor'
const shelf = mkdtempSync(join(tmpdir(), 'tagstrip-damaged-'))
const [data, place, photographs] = [join(shelf, 'data'), join(shelf, 'place'), join(shelf, 'data', 'photographs')]
const { copyMeans } = readConfig({ NODE_ENV: 'test' })
const named = new Set<string>()
let stage: ReturnType<typeof openStage>
let elsewhere: Elsewhere
let lightKeys: Uint8Array

const open = (to: string) =>
  openElsewhere({
    dataDir: data,
    copy: { to: { kind: 'folder', path: to }, passphrase: { words: PASSPHRASE }, means: copyMeans },
    handle: stage.house.db.$client,
    isNamed: (sha) => named.has(sha),
    log: openLog('silent'),
  })
/** The keys as the house seals them, in a thousandth of the work: each test opens them again. That the house's own open is shown where it is killed. */
async function sealLightly(): Promise<Uint8Array> {
  const dir = join(data, 'keys')
  const files = Object.fromEntries(readdirSync(dir).map((name) => [name, readFileSync(join(dir, name), 'utf8')]))
  const encrypter = new Encrypter()
  encrypter.setPassphrase(PASSPHRASE)
  encrypter.setScryptWorkFactor(8)
  return encrypter.encrypt(JSON.stringify({ files }))
}
const until = async (isSo: () => boolean, what: string) => {
  for (let tries = 0; !isSo(); tries++) {
    if (tries > 900) throw new Error(`waited in vain until ${what}`)
    await new Promise((resolve) => setTimeout(resolve, 20))
  }
}
const segmentsIn = (dir: string): string[] =>
  existsSync(join(dir, 'database'))
    ? readdirSync(join(dir, 'database'), { recursive: true, encoding: 'utf8' })
        .filter((name) => name.endsWith('.wal.lz4'))
        .sort()
        .map((name) => join(dir, 'database', name))
    : []
const photographsThere = () => (existsSync(join(place, 'photographs')) ? readdirSync(join(place, 'photographs')) : [])
const litestream = () => Number(readFileSync(join(data, 'elsewhere', 'litestream.pid'), 'utf8'))
const work = (n: number) => stage.command(({ record }) => record({ kind: 'noted', subject: `note:${n}`, body: {} }))
/** Works until so many parts of the log lie there. */
async function workUntil(parts: number): Promise<void> {
  for (let n = 0; segmentsIn(place).length < parts; n++) {
    if (n > 300) throw new Error('no part of the log arrived')
    await work(n)
    await new Promise((resolve) => setTimeout(resolve, 60))
  }
}

beforeAll(async () => {
  stage = openStage({ now: Date.now(), dir: data })
  mkdirSync(place)
  mkdirSync(photographs, { recursive: true })
  elsewhere = open(place)
  elsewhere.start()
  await workUntil(5)
  await until(() => existsSync(join(place, 'keys.age')), 'the keys lay there')
  lightKeys = await sealLightly()
}, 60_000)
afterAll(async () => {
  await elsewhere.stop()
  stage.house.close()
  rmSync(shelf, { recursive: true, force: true })
})

const NAME = `${'ab'.repeat(32)}-640.webp`
test('a photograph is brought there, stays when its file here is lost, and goes when no row names it', async () => {
  named.add(NAME.slice(0, 64))
  writeFileSync(join(photographs, NAME), 'what is in it')
  await until(() => photographsThere().some((name) => name.endsWith(`.${NAME}`)), 'it was there')
  rmSync(join(photographs, NAME))
  await new Promise((resolve) => setTimeout(resolve, 2_500))
  expect(photographsThere()).toHaveLength(1)
  named.clear()
  await until(() => photographsThere().length === 0, 'it had gone')
}, 30_000)

test('Litestream dies and is started again, and what is done after that arrives', async () => {
  const before = litestream()
  process.kill(before, 'SIGKILL')
  await until(() => litestream() !== before, 'another one ran')
  await workUntil(segmentsIn(place).length + 2)
  expect(elsewhere.state()).toMatchObject({ isOn: true, trouble: null })
}, 60_000)

test('COPY_TO within DATA_DIR, or the other way round, is refused before anything is written', () => {
  for (const within of [join(data, 'copies'), data, shelf])
    expect(() => open(within)).toThrow('one lies in the other. Set COPY_TO to a folder on another disk.')
  expect(existsSync(join(data, 'copies'))).toBe(false)
})

function copyOfCopy(dir: string): void {
  cpSync(place, dir, { recursive: true })
  writeFileSync(join(dir, 'keys.age'), lightKeys)
}

/** Fetches a copy that was altered, and expects the sentence, and that nothing is left. */
async function refused(name: string, alter: (dir: string) => void, words: string, more: { passphrase?: string; house?: string } = {}) {
  const [dir, into] = [join(shelf, name), join(shelf, `${name} fetched`)]
  copyOfCopy(dir)
  alter(dir)
  const fetching = fetchCopy({ from: { kind: 'folder', path: dir }, passphrase: PASSPHRASE, into, settings: copyMeans, ...more })
  await expect(fetching).rejects.toThrow(words)
  expect(existsSync(into)).toBe(false)
}
const middle = (dir: string) => segmentsIn(dir)[2] as string

test(
  'a part that is missing in the middle of the copy is noticed',
  () => refused('gap', (dir) => rmSync(middle(dir)), 'The copy is cut short: parts of its database are missing'),
  30_000,
)

test(
  'a part that was cut off is noticed',
  () => refused('cut', (dir) => truncateSync(middle(dir), 40), 'is cut short. Nothing was changed. Use another copy or a backup.'),
  30_000,
)

test(
  'a snapshot that was cut off is noticed',
  () =>
    refused(
      'snapshot',
      (dir) => {
        const snapshots = join(dirname(dirname(middle(dir))), 'snapshots')
        for (const name of readdirSync(snapshots)) truncateSync(join(snapshots, name), 1_000)
      },
      'The copy is damaged. Litestream says: cannot restore snapshot',
    ),
  30_000,
)

test(
  'another passphrase is refused with what to do',
  () =>
    refused('passphrase', () => {}, 'Give the one that COPY_PASSPHRASE was when the copy was made.', {
      passphrase: 'six small boats at anchor',
    }),
  30_000,
)

test(
  'the copy of another house than the one that stands here is refused before its keys are opened',
  () =>
    refused('other', (dir) => rmSync(join(dir, 'keys.age')), 'is a copy of another house than the one that stands here', {
      house: 'another key',
    }),
  30_000,
)

test('a copy that a newer program made is fetched, and not put in the place of anything', async () => {
  const [dir, into, restored] = [join(shelf, 'newer'), join(shelf, 'newer fetched'), join(shelf, 'restored')]
  copyOfCopy(dir)
  await fetchCopy({ from: { kind: 'folder', path: dir }, passphrase: PASSPHRASE, into, settings: copyMeans })
  const handle = new Database(join(into, DATABASE))
  handle.prepare("INSERT INTO migration (name, at) VALUES ('9999-of-a-later-year.sql', 0)").run()
  handle.pragma('wal_checkpoint(TRUNCATE)')
  handle.close()
  const manifest = JSON.parse(readFileSync(join(into, 'manifest.json'), 'utf8'))
  manifest.files[DATABASE] = createHash('sha256')
    .update(readFileSync(join(into, DATABASE)))
    .digest('hex')
  writeFileSync(join(into, 'manifest.json'), JSON.stringify(manifest))
  expect(() => restoreBackup(into, restored, { migrationsDir: MIGRATIONS, at: Date.now() })).toThrow(
    'The copy was made by a newer Tagstrip',
  )
  expect(existsSync(restored)).toBe(false)
}, 30_000)
