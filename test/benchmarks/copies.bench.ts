import { existsSync, mkdtempSync, rmSync, statSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { monitorEventLoopDelay } from 'node:perf_hooks'
import { expect, test } from 'vitest'
import { type CopyMade, type CopyOrder, makeBackup } from '#runtime/disk/backup'
import { openLog } from '#runtime/settings/log'
import { openWorkshop } from '#runtime/workers/workers'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { NOON, openStage, type Stage } from '#test/stage'
import { print, quantile } from './open-house'

// How long a copy of a database of 140 MB keeps the house's one thread from anything else, while bids go on: by the thread that the served
// house copies on, and on the house's own. Without a copy and with one, in turns, so that whatever else the machine does slows both.
const MEGABYTES = 140
const ROUNDS = 3
const BIDDERS = 40
const BID_EVERY_MS = 20
const MEANT_MS = 50
/** Of the longest wait without a copy, on a machine that keeps its processes waiting for longer than that by itself. */
const MOST_TIMES = 3

const worker = join(import.meta.dirname, '..', '..', 'dist', 'copy-worker.mjs')

/** Bids for as long as the work goes on, and answers how late the turns of the loop were, in ms, and how many bids were taken. */
async function whileBidding(stage: Stage, bid: () => Promise<unknown>, work: () => Promise<unknown>) {
  const delays = monitorEventLoopDelay({ resolution: 1 })
  const waits: number[] = []
  let isOn = true
  const bidding = (async () => {
    while (isOn) {
      const began = performance.now()
      await bid()
      waits.push(performance.now() - began)
      await new Promise((resolve) => setTimeout(resolve, BID_EVERY_MS))
    }
  })()
  delays.enable()
  await work()
  delays.disable()
  isOn = false
  await bidding
  stage.clock.pass(60_000)
  return { longest: delays.max / 1e6, most: delays.percentile(99) / 1e6, waits }
}

test.skipIf(!existsSync(worker))('a copy while bids go on', { timeout: 600_000 }, async () => {
  const stage = openStage({ now: NOON })
  const into = mkdtempSync(join(tmpdir(), 'tagstrip-copies-'))
  const shop = openWorkshop<CopyOrder, CopyMade>({ entry: worker, log: openLog('silent') })
  try {
    const lot = (await makeOpenLot(stage, { tag: 'TERN-01' })).number
    const callers: Awaited<ReturnType<typeof makeBidder>>['caller'][] = []
    for (let n = 0; n < BIDDERS; n++)
      callers.push((await makeBidder(stage, `Bidder ${String.fromCharCode(97 + (n % 26), 97 + Math.floor(n / 26))}`)).caller)
    await stage.command(({ db }) => {
      db.run('UPDATE paddle SET ceiling_minor = 100000000000')
      db.run('CREATE TABLE padding (n INTEGER PRIMARY KEY, body BLOB)')
      for (let n = 0; n < MEGABYTES; n++) db.run(`INSERT INTO padding (body) VALUES (randomblob(1048576))`)
    })
    stage.db.$client.pragma('wal_checkpoint(TRUNCATE)')
    let amount = 1_000
    const bid = () => {
      amount += 1_000
      stage.clock.pass(1_000)
      return (
        callers[(amount / 1_000) % BIDDERS]?.bidding.place({
          lot,
          maximum: String(amount),
          key: `bench-${String(amount).padStart(16, '0')}`,
        }) ?? Promise.reject()
      )
    }
    const ways = {
      'without a copy': () => new Promise((resolve) => setTimeout(resolve, 3_000)),
      'copied on a thread of its own': () => shop.make({ dataDir: stage.dir, intoDir: into, at: Date.now(), madeFor: 'a person' }),
    }
    const longest: Record<string, number> = {}
    for (let round = 0; round < ROUNDS; round++)
      for (const [name, work] of Object.entries(ways)) {
        const seen = await whileBidding(stage, bid, work)
        longest[name] = Math.max(longest[name] ?? 0, seen.longest)
        print(
          `${name}: the loop late by ${seen.most.toFixed(1)} ms (99 %), ${seen.longest.toFixed(1)} ms at the longest; ${seen.waits.length} bids, ${quantile(seen.waits, 0.5).toFixed(1)} ms (half), ${quantile(seen.waits, 0.99).toFixed(1)} ms (99 %)`,
        )
      }
    const pages = whileBidding(stage, bid, () => makeBackup({ dataDir: stage.dir, intoDir: into, at: Date.now(), madeFor: 'a person' }))
    print(`on the house's own thread, as no served house does it: ${(await pages).longest.toFixed(0)} ms at the longest`)
    print(`${Math.round(statSync(join(stage.dir, 'tagstrip.db')).size / 2 ** 20)} MB of database`)
    const [without = 0, withCopy = 0] = [longest['without a copy'], longest['copied on a thread of its own']]
    expect(withCopy, `${without.toFixed(1)} ms without a copy`).toBeLessThan(Math.max(MEANT_MS, without * MOST_TIMES))
  } finally {
    shop.close()
    stage.close()
    rmSync(into, { recursive: true, force: true })
  }
})
