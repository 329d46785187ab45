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
const TOGETHER = 2_000
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

async function measure(dir: string, sale: Sale, program: string, urls: string[]) {
  const machine = new OneMachine(dir, await freePort(), program, 'writer', urls)
  try {
    const port = await machine.isOpen()
    for (let n = 0; n < 50; n++) await bid(port, sale, n)
    const waits: number[] = []
    for (let n = 0; n < ONE_BY_ONE; n++) waits.push((await bid(port, sale, n)) ?? 0)
    let next = 0
    let taken = 0
    const began = performance.now()
    const go = async () => {
      while (next < TOGETHER) if ((await bid(port, sale, next++)) !== null) taken += 1
    }
    await Promise.all(Array.from({ length: IN_FLIGHT }, go))
    return { half: quantile(waits, 0.5), most: quantile(waits, 0.99), rate: taken / ((performance.now() - began) / 1000) }
  } finally {
    await machine.kill()
  }
}

test.skipIf(NATS_SERVER === null)('a bid, without and with machines that stand by', { timeout: 600_000 }, async () => {
  const dist = mkdtempSync(join(import.meta.dirname, '..', '..', 'node_modules', '.machines-'))
  const folders = [someFolder(), someFolder()]
  const servers = await openNatsServers(3)
  try {
    const program = await buildMachine(dist)
    const [without, withThem] = [
      await makeSale(folders[0] ?? '', { lots: 8, bidders: BIDDERS }),
      await makeSale(folders[1] ?? '', { lots: 8, bidders: BIDDERS }),
    ]
    const bare = await measure(folders[0] ?? '', without, program, [])
    const held = await measure(folders[1] ?? '', withThem, program, servers.urls)
    const line = (name: string, { half, most, rate }: typeof bare) =>
      print(
        `${name}: one after the other ${half.toFixed(1)} ms (half), ${most.toFixed(1)} ms (99 %); ${IN_FLIGHT} in flight ${rate.toFixed(0)} bids a second`,
      )
    line('without NATS        ', bare)
    line('three servers of NATS', held)
    print(
      `added: ${(held.half - bare.half).toFixed(1)} ms (half), ${(held.most - bare.most).toFixed(1)} ms (99 %); ${((100 * held.rate) / bare.rate).toFixed(0)} % of the rate`,
    )
  } finally {
    await servers.stop()
    for (const folder of [dist, ...folders]) rmSync(folder, { recursive: true, force: true })
  }
})
