import { cpSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { restoreBackup } from '#runtime/disk/restore'
import { fetchCopy } from '#runtime/elsewhere/fetch-copy'
import { readConfig } from '#runtime/settings/config'
import { listBidsOfLot } from '#sale/bids/bids.store'
import { isKeptRight } from '#sale/bids/kept-right.service'
import { type BiddingProcess, buildBiddingHouse } from '#test/make/bidding-process'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { MIGRATIONS } from '#test/make/packed'
import { openStage } from '#test/stage'

// A house in a process of its own takes bids as fast as it can, with a copy kept by a real Litestream, and is killed.
const BIDDERS = 24
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

async function begin(name: string) {
  const [data, place] = [join(shelf, name, 'data'), join(shelf, name, 'place')]
  mkdirSync(place, { recursive: true })
  cpSync(join(shelf, 'made'), data, { recursive: true })
  running = houses.start(data, lot, 0, { COPY_TO: place, COPY_PASSPHRASE: PASSPHRASE })
  const house = running
  await until(() => existsSync(join(place, 'keys.age')) && segmentsIn(place).length > 2 && house.taken().length > 100, 'a copy lay there')
  return { data, place, house }
}

/** Reads a copy back into a new folder, opens the house there, and answers which bids it has. */
async function bidsElsewhere(place: string, name: string): Promise<Set<string>> {
  const [into, data] = [join(shelf, name, 'fetched'), join(shelf, name, 'elsewhere')]
  await fetchCopy({ from: { kind: 'folder', path: place }, passphrase: PASSPHRASE, into, settings: copyMeans })
  restoreBackup(into, data, { migrationsDir: MIGRATIONS, at: Date.now() })
  const stage = openStage({ now: Date.now(), dir: data })
  const kept = new Set(listBidsOfLot(stage.sight().db, lotId).map((bid) => bid.id))
  expect(isKeptRight(stage.sight(), lot)).toBe(true)
  stage.house.close()
  return kept
}

test('the machine dies in the middle of bids: elsewhere stands whatever had been copied, whole', async () => {
  const { data, place, house } = await begin('machine')
  const [taken, at] = [house.taken(), Date.now()]
  await until(() => newestIn(place) > at, 'that was copied as well')
  process.kill(litestreamOf(data), 'SIGKILL')
  house.child.kill('SIGKILL')
  await house.gone
  const kept = await bidsElsewhere(place, 'machine')
  expect(taken.length).toBeGreaterThan(100)
  expect(taken.filter((key) => !kept.has(key))).toEqual([])
}, 60_000)

test('the house alone is killed: Litestream brings there every bid that was acknowledged, and ends', async () => {
  const { data, place, house } = await begin('house')
  const litestream = litestreamOf(data)
  house.child.kill('SIGKILL')
  await house.gone
  await until(() => !isAlive(litestream), 'it ended')
  const kept = await bidsElsewhere(place, 'house')
  expect(house.taken().filter((key) => !kept.has(key))).toEqual([])
}, 60_000)
