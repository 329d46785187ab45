import { Agent, get } from 'node:http'
import { test } from 'vitest'
import { openBenchHouse, print, quantile } from './open-house'
import { row } from './rows'

// Everybody is told to look at one lot: how many pages a second, beside what the very same door gives of a few bytes (/api/health) in
// the same run, and what that does to bids. Pages are those of the build. Nothing is asserted: it prints.
const READERS = 16
const SECONDS = 4
const BIDS_A_SECOND = 20

interface Read {
  rate: number
  half: number
  most: number
  failed: number
}

async function readers(url: string, path: string, seconds = SECONDS, count = READERS): Promise<Read> {
  const agent = new Agent({ keepAlive: true, maxSockets: count })
  const waits: number[] = []
  let failed = 0
  const one = () =>
    new Promise<void>((resolve) => {
      const asked = performance.now()
      get(`${url}${path}`, { agent, headers: { 'accept-encoding': 'br' } }, (answer) => {
        if (answer.statusCode !== 200) failed++
        answer.resume().on('end', () => {
          waits.push(performance.now() - asked)
          resolve()
        })
      }).on('error', () => {
        failed++
        resolve()
      })
    })
  const until = performance.now() + seconds * 1000
  await Promise.all(
    Array.from({ length: count }, async () => {
      while (performance.now() < until) await one()
    }),
  )
  agent.destroy()
  return { rate: waits.length / seconds, half: quantile(waits, 0.5), most: quantile(waits, 0.99), failed }
}

test('pages a second', { timeout: 180_000 }, async () => {
  process.env.BENCH_PAGES = '1'
  const house = await openBenchHouse(16)
  const [lot = 0, other = 0] = house.lots
  const { url } = house
  /** Bids at their own pace, whatever else is asked. */
  const bidding = async (on: number, during: Promise<unknown>) => {
    const waits: number[] = []
    let isOver = false
    void during.finally(() => {
      isOver = true
    })
    const asked: Promise<unknown>[] = []
    for (let n = 0; !isOver; n++) {
      const cookie = house.cookies[n % house.cookies.length] ?? ''
      asked.push(house.bid(cookie, on).then(({ status, waited }) => status === 200 && waits.push(waited)))
      await new Promise((resolve) => setTimeout(resolve, 1000 / BIDS_A_SECOND))
    }
    await Promise.all(asked)
    return waits
  }
  const pause = (seconds: number) => new Promise((resolve) => setTimeout(resolve, seconds * 1000))
  for (const path of ['/api/health', `/lots/${lot}`, '/', '/lots.json']) await readers(url, path, 1)
  const bidsAlone = await bidding(other, pause(SECONDS))
  const health = await readers(url, '/api/health')
  const say = (words: string, { rate, half, most, failed }: Read) =>
    print(
      `${words}: ${rate.toFixed(0)} a second (${(rate / health.rate).toFixed(2)}), half after ${half.toFixed(1)} ms, 99 % after ${most.toFixed(1)} ms${failed > 0 ? `, ${failed} FAILED` : ''}`,
    )
  say('/api/health, the measure', health)
  for (const [name, path] of [
    ['a lot’s page', `/lots/${lot}`],
    ['the front page', '/'],
    ['a record', '/units/TERN-01'],
    ['/lots.json', '/lots.json'],
  ] as const) {
    const read = await readers(url, path)
    say(name, read)
    row({ measure: `${name}, a second`, run: read.rate, baseline: health.rate, of: '/api/health', goal: { atLeast: 0.5 } })
    row({ measure: `${name}, 99 % after, ms`, run: read.most, goal: { runAtMost: 20 } })
  }
  const healthUnderWay = readers(url, '/api/health')
  const besideHealth = await bidding(other, healthUnderWay)
  await healthUnderWay
  for (const [words, on] of [
    ['bids on another lot beside readers of a page', other],
    ['bids on the very lot that is read', lot],
  ] as const) {
    const underWay = readers(url, `/lots/${lot}`)
    const waits = await bidding(on, underWay)
    say(`a lot’s page while there are ${BIDS_A_SECOND} ${words} a second`, await underWay)
    const half = quantile(waits, 0.5)
    print(
      `  ${words}: half after ${half.toFixed(1)} ms, 99 % ${quantile(waits, 0.99).toFixed(1)} ms; beside as many readers of /api/health ${quantile(besideHealth, 0.5).toFixed(1)} and ${quantile(besideHealth, 0.99).toFixed(1)} ms; alone ${quantile(bidsAlone, 0.5).toFixed(1)} and ${quantile(bidsAlone, 0.99).toFixed(1)} ms`,
    )
    row({
      measure: `${words}, half after, ms`,
      run: half,
      baseline: quantile(besideHealth, 0.5),
      of: 'beside /api/health',
      goal: { atMost: 1.1 },
    })
  }
  await house.close()
})
