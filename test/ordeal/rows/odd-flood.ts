import { join } from 'node:path'
import { quantile } from '#test/benchmarks/open-house'
import { furnish } from '../furnish'
import { openHand } from '../hand'
import { atRate, bidAtRate } from '../load'
import { serveHouse } from '../served'
import { Lie, pick, type Row, type Trial } from '../trial'
import { openWork, someAddress } from '../work'

const BIDS_A_SECOND = 500
const ODD_A_SECOND = 2_000
const MOST_MS = 500
/** A second in which less than this of what was asked for was sent says nothing of the house. */
const ENOUGH = 0.9
/** The same flood on a house that has just opened, whose program the platform has not made fast yet: told, and not counted. */
const WARM_UP_SECONDS = 10

export const oddFlood: Row = {
  id: 'R17',
  what: '500 bids and 2,000 odd requests a second',
  goal: 'a minute, bids p99 < 500 ms, none lost',
  times: 60,
  unit: 'seconds',
  run,
}

type Odd = readonly [path: string, method?: 'GET' | 'POST', body?: string, type?: string]
/** What nobody's page would ask: places that are not there, procedures asked wrongly, bodies that are none. */
const ODD: readonly Odd[] = [
  ['/lots/999999'],
  ['/lots/-1/history.json'],
  ['/files/../../keys/seal.secret'],
  ['/api/trpc/bidding.place', 'POST', '{"lot":1'],
  ['/api/trpc/bidding.place', 'POST', '{"lot":"one","key":"","maximum":[]}'],
  ['/api/trpc/nothing.there', 'POST', '{}'],
  ['/api/trpc/bidding.frame?input=%7B%22lot%22%3A1e99%7D'],
  ['/api/trpc/booking.give', 'POST', '{"key":"nobody is signed in","from":"x","amount":"1"}'],
  ['/live?topics=everything'],
  [`/live?topics=${'lot:1,'.repeat(40)}`],
  ['/api/reports', 'POST', 'not json', 'text/plain'],
  [`/${'%2e%2e%2f'.repeat(40)}etc`],
  ['/files/photographs', 'POST', 'no picture', 'image/png'],
  ['/certificates/TS-2027-0000-X.json'],
  ['/units/%00.json'],
]

async function run(trial: Trial): Promise<void> {
  const { chance } = trial
  const house = await furnish(join(trial.dir, 'house'), { lots: 32, bidders: 200 })
  const work = openWork(trial, house)
  const { hand, port } = await serveHouse(trial, house.dataDir)
  const odd = openHand(port, 128)
  trial.atEnd(() => odd.close())
  const failed = new Map<string, number>()
  const flood = (seconds: number) =>
    Promise.all([
      bidAtRate(work, hand, BIDS_A_SECOND, seconds),
      atRate(ODD_A_SECOND, seconds, () => {
        const [path, method = 'GET', body, type] = pick(chance, ODD)
        odd.ask(path, { method, ...(body !== undefined && { body, type }), from: someAddress(chance) }).then((heard) => {
          if (heard && heard.status >= 500) failed.set(`${heard.status} at ${path.slice(0, 60)}`, (failed.get(path) ?? 0) + 1)
        })
      }),
    ])
  const [cold] = await flood(WARM_UP_SECONDS)
  trial.begins()
  const waits: number[] = []
  let sent = { odd: 0, bids: 0, taken: 0, seconds: 0 }
  while (trial.goesOn()) {
    const seconds = Math.min(5, Math.max(1, trial.secondsLeft()))
    const began = performance.now()
    const [bids, asked] = await flood(seconds)
    const took = (performance.now() - began) / 1000
    waits.push(...bids.waits)
    sent = { odd: sent.odd + asked, bids: sent.bids + bids.sent, taken: sent.taken + bids.taken, seconds: sent.seconds + took }
    const [first] = failed
    if (first) throw new Lie('no 500 for whatever is asked', first[0], `second ${sent.seconds.toFixed(0)}`)
    if (bids.sent >= BIDS_A_SECOND * seconds * ENOUGH && asked >= ODD_A_SECOND * seconds * ENOUGH && took < seconds * 1.2)
      trial.tried(Math.round(seconds))
  }
  const p99 = quantile(waits, 0.99)
  const rate = (count: number) => (count / Math.max(1, sent.seconds)).toFixed(0)
  trial.note(
    `${rate(sent.bids)} bids (${rate(sent.taken)} taken) and ${rate(sent.odd)} odd requests a second; bids answered after ${quantile(waits, 0.5).toFixed(0)} ms (half), ${p99.toFixed(0)} ms (99 %); in its first ${WARM_UP_SECONDS} seconds after ${quantile(cold.waits, 0.5).toFixed(0)} and ${quantile(cold.waits, 0.99).toFixed(0)} ms. Only seconds at the full rate count.`,
  )
  const faults = await work.check(hand)
  if (faults.length > 0) throw new Lie('no bid is lost', faults[0]?.words ?? '', 'all bids are looked up at the end')
  if (trial.result.tried > 0 && p99 >= MOST_MS)
    throw new Lie(`99 of 100 bids are answered within ${MOST_MS} ms`, `${p99.toFixed(0)} ms`, `${sent.seconds.toFixed(0)} seconds of it`)
}
