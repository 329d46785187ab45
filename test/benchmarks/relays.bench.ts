import { readFileSync } from 'node:fs'
import { connect, type Socket } from 'node:net'
import { test } from 'vitest'
import { openNatsServers } from '#test/make/nats'
import { NATS_SERVER } from '#test/make/neighbour'
import { startRelay } from '#test/make/relay'
import { giveSigns } from '#test/make/signs'
import { openBenchHouse, print, quantile } from './open-house'

// So many watchers at each of one, two and four relays, all on this machine with the house, NATS and whoever watches, who needs a file
// for each: `ulimit -n` says how many there may be. Nothing is asserted: it prints.
const EACH = Number(process.env.WATCHERS_EACH ?? 4_900)
const BIDS = Number(process.env.RELAY_BIDS ?? 20)
const BETWEEN_MS = Number(process.env.RELAY_BETWEEN_MS ?? 1_000)
const RELAYS = (process.env.RELAYS ?? '1,2,4').split(',').map(Number)

const residentOf = (pid: number): number => Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1] ?? 0) * 1024

async function measure(many: number, natsUrl: string): Promise<void> {
  process.env.BENCH_NATS = natsUrl
  const house = await openBenchHouse(8)
  const relays = await Promise.all(
    Array.from({ length: many }, () => startRelay({ dir: house.dir, house: { publicUrl: 'https://bench.example' } }, [natsUrl])),
  )
  const empty = relays.map(({ pid }) => residentOf(pid))
  const lot = house.lots[0] ?? 0
  const watchers = many * EACH
  const sockets: Socket[] = []
  const tokens: string[][] = relays.map(() => [])
  const seenBy: number[] = []
  const lastAt: number[] = []
  let letGo = 0
  const page = Buffer.alloc(16_384)
  const open = (n: number) =>
    new Promise<void>((resolve, reject) => {
      const at = n % many
      let seen = 0
      let token = ''
      const read = (length: number, part: Uint8Array) => {
        const text = Buffer.from(part.buffer, part.byteOffset, length).toString('latin1')
        if (token === '') {
          token = /"stream":"([^"]+)"/.exec(text)?.[1] ?? ''
          if (token !== '') tokens[at]?.push(token)
        }
        const found = text.lastIndexOf('"bids":')
        if (found < 0) return true
        resolve()
        const bids = Number.parseInt(text.slice(found + 7, found + 15), 10)
        for (let bid = seen + 1; bid <= bids; bid++) {
          seenBy[bid] = (seenBy[bid] ?? 0) + 1
          lastAt[bid] = performance.now()
        }
        seen = Math.max(seen, bids)
        return true
      }
      const socket = connect({ port: relays[at]?.port ?? 0, host: '127.0.0.1', onread: { buffer: page, callback: read } }, () =>
        socket.write(
          `GET /live?topics=lot:${lot} HTTP/1.1\r\nHost: bench.example\r\nX-Forwarded-For: 10.${n >> 12}.${(n >> 4) & 255}.1\r\n\r\n`,
        ),
      )
      socket.once('error', reject)
      socket.once('close', () => {
        letGo += 1
      })
      sockets.push(socket)
    })
  const signs = relays.map(({ port }, at) => giveSigns(port, tokens[at] ?? []))
  const began = performance.now()
  for (let n = 0; n < watchers; n += 100)
    await Promise.all(Array.from({ length: Math.min(100, watchers - n) }, (_, more) => open(n + more)))
  const opened = watchers / ((performance.now() - began) / 1000)
  const sentAt: number[] = []
  for (let n = 0; n < BIDS; n++) {
    const { nth, status } = await house.bid(house.cookies[n % house.cookies.length] ?? '', lot)
    if (nth === null) throw new Error(`a bid was not taken (${status}): what follows would measure nothing`)
    sentAt[nth] = performance.now()
    await new Promise((resolve) => setTimeout(resolve, BETWEEN_MS))
  }
  await new Promise((resolve) => setTimeout(resolve, 2_000))
  // A stream that ended is opened again by a browser; here its screen is without the bids that follow, and said to be.
  const waits = sentAt.flatMap((sent, bid) => (seenBy[bid] === watchers ? [(lastAt[bid] ?? 0) - sent] : []))
  const held = relays.map(({ pid }, at) => residentOf(pid) - (empty[at] ?? 0))
  print(
    `${many} relay${many > 1 ? 's' : ''}, ${watchers} watchers, of whom ${letGo} were let go: from a bid's answer to the last screen ${quantile(waits, 0.5).toFixed(0)} ms (half), ${quantile(waits, 0.99).toFixed(0)} ms (99 %), ${waits.length} of ${BIDS} bids on all of them; a relay holds ${((empty[0] ?? 0) / 1e6).toFixed(0)} MB empty and ${(held.reduce((sum, one) => sum + one, 0) / many / EACH / 1e3).toFixed(1)} kB for each watcher; ${opened.toFixed(0)} streams opened a second`,
  )
  for (const stop of signs) stop()
  for (const socket of sockets) socket.destroy()
  await Promise.all(relays.map((relay) => relay.kill('SIGKILL')))
  await house.close()
}

test.skipIf(NATS_SERVER === null)('watchers on one, two and four relays', { timeout: 600_000 }, async () => {
  const nats = await openNatsServers(1)
  for (const many of RELAYS) await measure(many, nats.urls[0] ?? '')
  await nats.stop()
})
