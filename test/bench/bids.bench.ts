import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { test } from 'vitest'
import { openBenchHouse, print, quantile } from './open-house'

// How fast bids are taken, as a ratio to bare SQLite that writes rows like theirs with a sync for each commit,
// in the same run on the same disk. Nothing is asserted: it prints.
const BIDDERS = 64
const SECONDS = 5

/** The rows of one bid: the bid, its leaf, the head, the fact, and the lot that it changes. */
function bareRate(): number {
  const dir = mkdtempSync(join(tmpdir(), 'tagstrip-bare-'))
  const handle = new Database(join(dir, 'bare.db'))
  handle.pragma('journal_mode = wal')
  handle.pragma('synchronous = full')
  const tables = ['bid', 'leaf', 'head', 'fact', 'lot']
  for (const table of tables) handle.exec(`CREATE TABLE ${table} (n INTEGER PRIMARY KEY, body TEXT) STRICT`)
  const writes = tables.map((table) => handle.prepare(`INSERT OR REPLACE INTO ${table} VALUES (?, ?)`))
  const body = 'x'.repeat(400)
  const one = handle.transaction((n: number) => {
    for (const [at, write] of writes.entries()) write.run(tables[at] === 'lot' ? 1 : n, body)
  })
  const until = performance.now() + SECONDS * 1000
  let done = 0
  while (performance.now() < until) one(++done)
  handle.close()
  rmSync(dir, { recursive: true })
  return done / SECONDS
}

test('bids a second', { timeout: 120_000 }, async () => {
  const bare = bareRate()
  const house = await openBenchHouse(BIDDERS)
  const waits: number[] = []
  let refused = 0
  const before = await house.state()
  const until = performance.now() + SECONDS * 1000
  await Promise.all(
    house.cookies.map(async (cookie, n) => {
      // Each bids on one lot, against seven others.
      const lot = house.lots[n % house.lots.length] ?? 0
      while (performance.now() < until) {
        const { status, waited } = await house.bid(cookie, lot)
        if (status === 200) waits.push(waited)
        else refused++
      }
    }),
  )
  const after = await house.state()
  await house.close()
  const computed = after.cpu.user + after.cpu.system - before.cpu.user - before.cpu.system
  const rate = waits.length / SECONDS
  print(`bare SQLite, the same rows, a commit and a sync for each: ${bare.toFixed(0)} a second (1.00)`)
  print(
    `bids through HTTP, session, rule, history and signature, ${BIDDERS} at once: ${rate.toFixed(0)} a second (${(rate / bare).toFixed(2)})`,
  )
  print(`  refused because another was higher by then: ${(refused / SECONDS).toFixed(0)} a second`)
  print(`  the house computes ${(computed / (waits.length + refused)).toFixed(0)} µs for each that it answers`)
  print(`  answers after ${quantile(waits, 0.5).toFixed(0)} ms (half of them), ${quantile(waits, 0.99).toFixed(0)} ms (99 %)`)
})
