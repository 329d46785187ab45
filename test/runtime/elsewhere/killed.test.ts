import { cpSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { drill } from '#house/drill/drill'
import { bringsTheHouseUp, drillWords } from '#house/drill/drill-words.rules'
import { restoreBackup } from '#runtime/disk/restore'
import { fetchCopy } from '#runtime/elsewhere/fetch-copy'
import { readConfig } from '#runtime/settings/config'
import { listBidsOfLot } from '#sale/bids/bids.store'
import { isKeptRight } from '#sale/bids/kept-right.service'
import { type BiddingProcess, buildBiddingHouse } from '#test/make/bidding-process'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { MIGRATIONS } from '#test/make/packed'
import { openStage } from '#test/stage'

// A house in a process of its own takes bids all the time, with a copy kept by a real Litestream, and is killed.
const BIDDERS = 60
/** Twelve in a minute are taken of each, and no more. */
const BID_EVERY_MS = 5_500
const PASSPHRASE = 'five small boats at anchor'
const shelf = mkdtempSync(join(tmpdir(), 'tagstrip-elsewhere-'))
const { copyMeans } = readConfig({ NODE_ENV: 'test' })
let houses: Awaited<ReturnType<typeof buildBiddingHouse>>
let running: BiddingProcess | null = null
let lot = 0
let lotId = ''

beforeAll(async () => {
  houses = await buildBiddingHouse()
  const stage = openStage({ now: Date.now(), dir: join(shelf, 'made') })
  lot = (await makeOpenLot(stage)).number
  for (let index = 0; index < BIDDERS; index++)
    await makeBidder(stage, `Bidder ${'abcdefgh'[index % 8]}${'abcdefgh'[Math.floor(index / 8)]}`)
  await stage.command(({ db }) => db.run('UPDATE paddle SET ceiling_minor = 100000000000'))
  lotId = (await (await stage.as('maker')).lots.all()).find((one) => one.number === lot)?.id ?? ''
  stage.house.close()
  cpSync(join(shelf, 'made'), data, { recursive: true })
  mkdirSync(place)
}, 60_000)
afterAll(() => {
  running?.child.kill('SIGKILL')
  houses.remove()
  rmSync(shelf, { recursive: true, force: true })
})

const until = async (isSo: () => boolean, what: string) => {
  for (let tries = 0; !isSo(); tries++) {
    if (tries > 600) throw new Error(`waited in vain until ${what}`)
    await new Promise((resolve) => setTimeout(resolve, 50))
  }
}

const segmentsIn = (place: string): string[] => {
  const dir = join(place, 'database', 'generations')
  return existsSync(dir)
    ? readdirSync(dir, { recursive: true, encoding: 'utf8' })
        .filter((name) => name.endsWith('.wal.lz4'))
        .map((name) => join(dir, name))
    : []
}
const newestIn = (place: string): number => Math.max(0, ...segmentsIn(place).map((file) => statSync(file).mtimeMs))
const litestreamOf = (data: string): number => Number(readFileSync(join(data, 'elsewhere', 'litestream.pid'), 'utf8'))
const isAlive = (pid: number): boolean => existsSync(`/proc/${pid}`) && readFileSync(`/proc/${pid}/cmdline`, 'utf8') !== ''

const [data, place] = [join(shelf, 'data'), join(shelf, 'place')]

/** Starts the house, and waits until a copy of it lies there and bids go on. */
async function begin(round: number): Promise<BiddingProcess> {
  const at = Date.now()
  running = houses.start(data, lot, round, { COPY_TO: place, COPY_PASSPHRASE: PASSPHRASE, BID_EVERY_MS: String(BID_EVERY_MS) })
  const house = running
  const isThere = () => existsSync(join(place, 'keys.age')) && segmentsIn(place).length > 2 && newestIn(place) > at
  await until(() => isThere() && house.taken().length > 20, 'a copy lay there')
  return house
}

/** Resolves when one more bid was taken than until now: whoever kills the house then kills it while bids go on. */
async function oneMore(house: BiddingProcess): Promise<void> {
  const { length } = house.taken()
  await until(() => house.taken().length > length, 'another bid was taken')
}

/** Reads a copy back into a new folder, opens the house there, and answers which bids it has. */
async function bidsElsewhere(name: string): Promise<Set<string>> {
  const [into, restored] = [join(shelf, name, 'fetched'), join(shelf, name, 'restored')]
  await fetchCopy({ from: { kind: 'folder', path: place }, passphrase: PASSPHRASE, into, settings: copyMeans })
  restoreBackup(into, restored, { migrationsDir: MIGRATIONS, at: Date.now() })
  const stage = openStage({ now: Date.now(), dir: restored })
  const kept = new Set(listBidsOfLot(stage.sight().db, lotId).map((bid) => bid.id))
  expect(isKeptRight(stage.sight(), lot)).toBe(true)
  stage.house.close()
  return kept
}

const filesIn = (dir: string): string[] =>
  readdirSync(dir, { recursive: true, encoding: 'utf8' }).filter(
    (name) => name !== 'elsewhere' && !name.startsWith('elsewhere/') && name !== 'heads.json.new',
  )

const scratchesHere = () => readdirSync(tmpdir()).filter((name) => name.startsWith(`tagstrip-drill-${process.pid}-`))

test('a drill while bids go on brings the house up from its copy, and touches nothing of it; then the machine dies, and elsewhere stands whatever had been copied, whole', async () => {
  const house = await begin(0)
  const before = filesIn(data)
  const steps: string[] = []
  const report = await drill({
    dataDir: data,
    from: { to: { kind: 'folder', path: place }, means: copyMeans },
    passphrase: PASSPHRASE,
    migrationsDir: MIGRATIONS,
    publicUrl: 'https://drill.example',
    tell: ({ step }) => steps.push(step),
  })
  expect(drillWords(report)).toContain('This copy would bring the house up.')
  expect(bringsTheHouseUp(report)).toBe(true)
  expect(report).toMatchObject({ lots: 1, damages: [], compared: { differences: [] }, serving: { is: 'serving' } })
  expect(steps).toEqual(['keys', 'database', 'photographs', 'check', 'put', 'compare', 'serve', 'lots'])
  expect([filesIn(data), scratchesHere()]).toEqual([before, []])

  await oneMore(house)
  const [taken, at] = [house.taken(), Date.now()]
  await until(() => newestIn(place) > at, 'that was copied as well')
  process.kill(litestreamOf(data), 'SIGKILL')
  house.child.kill('SIGKILL')
  await house.gone
  const kept = await bidsElsewhere('machine')
  expect(taken.length).toBeGreaterThan(20)
  expect(taken.filter((key) => !kept.has(key))).toEqual([])
}, 90_000)

test('it is opened again and killed alone: Litestream brings there every bid that was acknowledged, and ends', async () => {
  const house = await begin(1)
  const litestream = litestreamOf(data)
  await oneMore(house)
  house.child.kill('SIGKILL')
  await house.gone
  await until(() => !isAlive(litestream), 'it ended')
  const kept = await bidsElsewhere('house')
  expect(house.taken().filter((key) => !kept.has(key))).toEqual([])
}, 60_000)

test('a drill says what would be lost of what the house did after its copy ended, and asks for room before anything is fetched', async () => {
  const stage = openStage({ now: Date.now() + 1_000, dir: data })
  const { caller } = await makeBidder(stage, 'Zoe')
  await stage.command(({ db }) => db.run('UPDATE paddle SET ceiling_minor = 100000000000'))
  const standing = Number(stage.db.$client.prepare('SELECT standing_minor FROM lot WHERE id = ?').pluck().get(lotId))
  await caller.bidding.place({ lot, maximum: String(standing / 100 + 1_000), key: 'after-the-copy-ended' })
  stage.house.close()
  const from = { kind: 'folder', path: place } as const
  const report = await drill({
    dataDir: data,
    from: { to: from, means: copyMeans },
    passphrase: PASSPHRASE,
    migrationsDir: MIGRATIONS,
    publicUrl: 'https://drill.example',
  })
  expect(report.compared?.lostFacts).toBeGreaterThan(0)
  expect(report.compared?.lostMs).toBeGreaterThan(0)
  expect(drillWords(report)).toMatch(/[\d.]+ s of work would have been lost when it was fetched: \d+ facts\./)
  expect(bringsTheHouseUp(report)).toBe(true)

  const into = join(shelf, 'no-room')
  const fetching = fetchCopy({ from, passphrase: PASSPHRASE, into, settings: copyMeans, free: () => 33 * 1024 * 1024 })
  await expect(fetching).rejects.toThrow(/^It needs \d+ MB of room, and on the disk of .* there are 33 MB\. Nothing was changed\./)
  expect(existsSync(into)).toBe(false)
}, 60_000)
