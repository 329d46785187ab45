import { mkdtempSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { test } from 'vitest'
import { openNatsServers } from '#test/make/nats'
import { freePort, NATS_SERVER } from '#test/make/neighbour'
import { buildMachine, makeSale, OneMachine, PUBLIC_URL, type Sale, someFolder } from '#test/make/two-machines'
import { print, quantile } from './open-house'

// What it costs that nothing is answered before other machines hold it: the same bids on the same house, without and with three servers.
const BIDDERS = 150
const ONE_BY_ONE = 400
const TOGETHER = 500
const ROUNDS = 4
const IN_FLIGHT = 64

let amount = 1_000

/** How long its answer took; null for one that another had overtaken. */
async function bid(port: number, sale: Sale, n: number): Promise<number | null> {
  amount += 5_000
  const began = performance.now()
  const index = n % sale.cookies.length
  const answer = await fetch(`http://127.0.0.1:${port}/api/trpc/bidding.place`, {
    method: 'POST',
    headers: {
      'content-type': 'application/json',
      origin: PUBLIC_URL,
      cookie: sale.cookies[index] ?? '',
      'x-forwarded-for': `10.1.${Math.floor(index / 250)}.${index % 250}`,
    },
    body: JSON.stringify({
      lot: sale.lots[n % sale.lots.length],
      key: `bench-${String(amount).padStart(14, '0')}`,
      maximum: String(amount),
    }),
  })
  const text = await answer.text()
  if (answer.status === 400 && text.includes('at least')) return null
  if (answer.status !== 200) throw new Error(`${answer.status} ${text}`)
  return performance.now() - began
}

/** One of two houses, and what was measured of it. */
interface Measured {
  port: number
  sale: Sale
  waits: number[]
  taken: number
  seconds: number
}

/** Bids at both in turns, so that whatever else the machine does slows both. */
async function measure(houses: readonly Measured[]): Promise<void> {
  for (const { port, sale } of houses) for (let n = 0; n < 50; n++) await bid(port, sale, n)
  for (let n = 0; n < ONE_BY_ONE; n++) for (const { port, sale, waits } of houses) waits.push((await bid(port, sale, n)) ?? 0)
  for (let round = 0; round < ROUNDS; round++)
    for (const house of houses) {
      let next = 0
      const began = performance.now()
      const go = async () => {
        while (next < TOGETHER) if ((await bid(house.port, house.sale, next++)) !== null) house.taken += 1
      }
      await Promise.all(Array.from({ length: IN_FLIGHT }, go))
      house.seconds += (performance.now() - began) / 1000
    }
}

test.skipIf(NATS_SERVER === null)('a bid, without and with machines that stand by', { timeout: 600_000 }, async () => {
  const dist = mkdtempSync(join(import.meta.dirname, '..', '..', 'node_modules', '.machines-'))
  const folders: string[] = []
  const machines: OneMachine[] = []
  const servers = await openNatsServers(3)
  try {
    const program = await buildMachine(dist)
    const open = async (urls: string[]): Promise<Measured> => {
      const dir = someFolder()
      folders.push(dir)
      const sale = await makeSale(dir, { lots: 8, bidders: BIDDERS })
      const machine = new OneMachine(dir, await freePort(), program, 'writer', urls)
      machines.push(machine)
      return { port: await machine.isOpen(), sale, waits: [], taken: 0, seconds: 0 }
    }
    const bare = await open([])
    const held = await open(servers.urls)
    await measure([bare, held])
    const [half, most] = [0.5, 0.99].map((share) => quantile(held.waits, share) - quantile(bare.waits, share))
    const rate = ({ taken, seconds }: Measured) => taken / seconds
    const line = (name: string, one: Measured) =>
      print(
        `${name}: one after the other ${quantile(one.waits, 0.5).toFixed(1)} ms (half), ${quantile(one.waits, 0.99).toFixed(1)} ms (99 %); ${IN_FLIGHT} in flight ${rate(one).toFixed(0)} bids a second`,
      )
    line('without NATS', bare)
    line('three servers of NATS', held)
    print(
      `added: ${half?.toFixed(1)} ms (half), ${most?.toFixed(1)} ms (99 %); ${((100 * rate(held)) / rate(bare)).toFixed(0)} % of the rate`,
    )
  } finally {
    for (const machine of machines) await machine.kill()
    await servers.stop()
    for (const folder of [dist, ...folders]) rmSync(folder, { recursive: true, force: true })
  }
})
