import { connect, type Socket } from 'node:net'
import { test } from 'vitest'
import { giveSigns } from '#test/make/signs'
import { bareFan } from './bare-sockets'
import { openBenchHouse, print, quantile } from './open-house'
import { row } from './rows'

// 5,000 pages follow one lot while 200 bids a second come in: how long until the last of them has each bid.
// Beside it the same stream with one watcher, and bare sockets that are written frames of that length with nothing
// else to do, in the same run. Nothing is asserted: it prints.
const WATCHERS = 5_000
const BIDS_A_SECOND = 200
const SECONDS = 10
/** A house on the day of its stream has run for a while: what it does in its first seconds is not counted. */
const WARM_UP_SECONDS = 5
const FRAME_BYTES = 700

interface Measured {
  /** Milliseconds from sending a bid to its being on the last screen, for each bid. */
  waits: number[]
  frames: number
  residentBytes: number
}

async function measure(watchers: number): Promise<Measured> {
  const house = await openBenchHouse(64)
  const lot = house.lots[0] ?? 0
  const sentAt: number[] = []
  const seenBy: number[] = []
  const lastAt: number[] = []
  let frames = 0
  const { hostname, port } = new URL(house.url)
  const sockets: Socket[] = []
  const tokens: string[] = []
  const stopSigns = giveSigns(Number(port), tokens)
  // All of them read into one page of memory: what measures must not be what takes the time.
  const page = Buffer.alloc(16_384)
  const open = () =>
    new Promise<void>((resolve, reject) => {
      const from = `10.0.${Math.floor(sockets.length / 250)}.${sockets.length % 250}`
      let seen = 0
      const read = (length: number, part: Uint8Array) => {
        const text = Buffer.from(part.buffer, part.byteOffset, length)
        const at = text.lastIndexOf('"bids":')
        if (seen === 0) {
          const token = /"stream":"([^"]+)"/.exec(text.toString('latin1'))?.[1]
          if (token !== undefined) tokens.push(token)
        }
        if (at < 0) return true
        resolve()
        frames++
        const bids = Number.parseInt(text.toString('latin1', at + 7, at + 15), 10)
        const now = performance.now()
        for (let n = seen + 1; n <= bids; n++) {
          seenBy[n] = (seenBy[n] ?? 0) + 1
          lastAt[n] = now
        }
        seen = Math.max(seen, bids)
        return true
      }
      const socket = connect({ port: Number(port), host: hostname, onread: { buffer: page, callback: read } }, () =>
        socket.write(`GET /live?topics=lot:${lot} HTTP/1.1\r\nHost: ${hostname}\r\nX-Forwarded-For: ${from}\r\n\r\n`),
      )
      socket.once('error', reject)
      sockets.push(socket)
    })
  for (let n = 0; n < watchers; n += 100) await Promise.all(Array.from({ length: Math.min(100, watchers - n) }, open))

  const bids: Promise<void>[] = []
  const began = performance.now()
  for (let n = 0; n < BIDS_A_SECOND * (WARM_UP_SECONDS + SECONDS); n++) {
    const wait = began + (n * 1000) / BIDS_A_SECOND - performance.now()
    if (wait > 0) await new Promise((resolve) => setTimeout(resolve, wait))
    const sent = performance.now()
    bids.push(
      house.bid(house.cookies[n % house.cookies.length] ?? '', lot).then(({ nth }) => {
        if (nth !== null && n >= BIDS_A_SECOND * WARM_UP_SECONDS) sentAt[nth] = sent
      }),
    )
  }
  await Promise.all(bids)
  await new Promise((resolve) => setTimeout(resolve, 1000))
  const { residentBytes } = await house.state()
  stopSigns()
  for (const socket of sockets) socket.destroy()
  await house.close()
  const waits = sentAt.flatMap((sent, n) => (seenBy[n] === watchers ? [(lastAt[n] ?? 0) - sent] : []))
  return { waits, frames, residentBytes }
}

test('a bid on every screen', { timeout: 180_000 }, async () => {
  const bare = await bareFan(WATCHERS, FRAME_BYTES)
  const alone = await measure(1)
  const all = await measure(WATCHERS)
  const line = ({ waits, frames }: Measured) =>
    `${quantile(waits, 0.5).toFixed(0)} ms (half of them), ${quantile(waits, 0.99).toFixed(0)} ms (99 %); ${waits.length} of ${BIDS_A_SECOND * SECONDS} bids were taken, ${frames} frames`
  print(`one watcher, ${BIDS_A_SECOND} bids a second on one lot: the bid on the screen after ${line(alone)}`)
  print(`${WATCHERS} watchers: on the last screen after ${line(all)}`)
  const slowest = quantile(all.waits, 0.99)
  print(
    `  that is ${(slowest / quantile(alone.waits, 0.99)).toFixed(2)} times one watcher's; the house holds ${(all.residentBytes / 1e6).toFixed(0)} MB`,
  )
  row({
    measure: `a bid on the last of ${WATCHERS} screens, 99 % after, ms`,
    run: slowest,
    baseline: quantile(bare, 0.99),
    of: 'bare sockets',
    goal: { runAtMost: 150 },
  })
  row({ measure: `the house with ${WATCHERS} watchers, MB`, run: all.residentBytes / 1e6, goal: { runAtMost: 300 } })
  print(
    `${WATCHERS} bare sockets have one frame of ${FRAME_BYTES} bytes after ${quantile(bare, 0.5).toFixed(0)} ms (half of the frames), ${quantile(bare, 0.99).toFixed(0)} ms (99 %): a bid takes ${(slowest / quantile(bare, 0.99)).toFixed(2)} times as long`,
  )
})
