import { mkdtempSync, rmSync } from 'node:fs'
import { Agent, request } from 'node:http'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { test } from 'vitest'
import { makePreparedLot } from '../make/lot'
import { openStage } from '../stage'
import { openStageDoor } from '../web/open-door'

// How fast bids are taken, as a ratio to bare SQLite that writes rows like theirs with a sync for each commit,
// in the same run on the same disk. Nothing is asserted: it prints.
const BIDDERS = 64
const SECONDS = 5

function bareRate(): number {
  const dir = mkdtempSync(join(tmpdir(), 'tagstrip-bare-'))
  const handle = new Database(join(dir, 'bare.db'))
  handle.pragma('journal_mode = wal')
  handle.pragma('synchronous = full')
  handle.exec(
    'CREATE TABLE bid (id TEXT PRIMARY KEY, body TEXT) STRICT; CREATE TABLE leaf (n INTEGER PRIMARY KEY, body TEXT) STRICT; CREATE TABLE fact (n INTEGER PRIMARY KEY, body TEXT) STRICT',
  )
  const writes = ['bid', 'leaf', 'fact'].map((table) => handle.prepare(`INSERT INTO ${table} VALUES (?, ?)`))
  const one = handle.transaction((n: number) => {
    const body = 'x'.repeat(400)
    writes[0]?.run(`bid-${n}`, body)
    writes[1]?.run(n, body)
    writes[2]?.run(n, body)
  })
  const until = performance.now() + SECONDS * 1000
  let done = 0
  while (performance.now() < until) one(++done)
  handle.close()
  rmSync(dir, { recursive: true })
  return done / SECONDS
}

async function houseRate(): Promise<{ rate: number; refused: number; p50: number; p99: number }> {
  const stage = openStage()
  const { number: lot } = await makePreparedLot(stage)
  const maker = await stage.as('maker')
  await maker.bidding.open({ lot })
  const door = await openStageDoor(stage)
  const agent = new Agent({ keepAlive: true, maxSockets: BIDDERS })
  const cookies: string[] = []
  for (let n = 0; n < BIDDERS; n++) {
    const name = `Bidder ${String.fromCharCode(97 + (n % 26))}${String.fromCharCode(97 + Math.floor(n / 26))}`
    await (await stage.as('bidder', name)).people.takePaddle({ name, country: 'GB', acceptsRules: true })
    const { personId } = await stage.actor('bidder', name)
    await stage.command((turn) => turn.db.run('UPDATE paddle SET ceiling_minor = 100000000000'))
    cookies.push(await door.sessionOf(personId))
  }
  let amount = 100
  let taken = 0
  let refused = 0
  const waits: number[] = []
  const until = performance.now() + SECONDS * 1000
  const bid = (cookie: string): Promise<boolean> =>
    new Promise((resolve, reject) => {
      amount += 5_000
      const body = JSON.stringify({ lot, key: `bench-${String(amount).padStart(16, '0')}`, maximum: String(amount) })
      const headers = { 'content-type': 'application/json', origin: door.url, cookie, 'content-length': Buffer.byteLength(body) }
      const sent = performance.now()
      const asked = request(`${door.url}/api/trpc/bidding.place`, { method: 'POST', agent, headers }, (answer) => {
        answer.resume().on('end', () => {
          waits.push(performance.now() - sent)
          resolve(answer.statusCode === 200)
        })
      })
      asked.on('error', reject).end(body)
    })
  await Promise.all(
    cookies.map(async (cookie) => {
      while (performance.now() < until) {
        if (await bid(cookie)) taken++
        else refused++
      }
    }),
  )
  agent.destroy()
  door.close()
  stage.close()
  waits.sort((a, b) => a - b)
  const at = (share: number) => waits[Math.floor(waits.length * share)] ?? 0
  return { rate: taken / SECONDS, refused: refused / SECONDS, p50: at(0.5), p99: at(0.99) }
}

test('bids a second', { timeout: 120_000 }, async () => {
  const bare = bareRate()
  const house = await houseRate()
  const print = (words: string) => process.stdout.write(`${words}\n`)
  print(`bare SQLite, a commit and a sync for each: ${bare.toFixed(0)} a second (1.00)`)
  print(
    `bids through HTTP, session, rule, history and signature, ${BIDDERS} at once: ${house.rate.toFixed(0)} a second (${(house.rate / bare).toFixed(2)})`,
  )
  print(`  refused because another was higher by then: ${house.refused.toFixed(0)} a second`)
  print(`  answers after ${house.p50.toFixed(0)} ms (half of them), ${house.p99.toFixed(0)} ms (99 %)`)
})
