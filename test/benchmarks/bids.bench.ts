import { rmSync } from 'node:fs'
import { test } from 'vitest'
import { bareBids } from './bare-bids'
import { openBenchHouse, print, quantile } from './open-house'
import { row } from './rows'

// How fast bids are taken, as a ratio to bare SQLite that writes the very same rows with a commit and a sync for each
// bid, in the same run on the same disk. Nothing is asserted: it prints.
const BIDDERS = 64
const SECONDS = 5

test('bids a second', { timeout: 120_000 }, async () => {
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
  const written = await house.copyOfData()
  await house.close()
  const bare = bareBids(written)
  rmSync(written, { recursive: true })
  const computed = after.cpu.user + after.cpu.system - before.cpu.user - before.cpu.system
  const rate = waits.length / SECONDS
  print(`bare SQLite, the same rows, a commit and a sync for each: ${bare.rate.toFixed(0)} a second (1.00)`)
  print(
    `bids through HTTP, session, rule, history and signature, ${BIDDERS} at once: ${rate.toFixed(0)} a second (${(rate / bare.rate).toFixed(2)})`,
  )
  row({
    measure: 'bids a second, receipts signed, maxima sealed',
    run: rate,
    baseline: bare.rate,
    of: 'bare SQLite, the same rows and notices',
    goal: { atLeast: 0.6 },
  })
  row({
    measure: 'what a bid computes, µs',
    run: computed / waits.length,
    baseline: bare.computes,
    of: 'bare SQLite, the same rows and notices',
  })
  print(`  refused because another was higher by then: ${(refused / SECONDS).toFixed(0)} a second`)
  print(`  the house computes ${(computed / (waits.length + refused)).toFixed(0)} µs for each that it answers`)
  print(`  answers after ${quantile(waits, 0.5).toFixed(0)} ms (half of them), ${quantile(waits, 0.99).toFixed(0)} ms (99 %)`)
})
