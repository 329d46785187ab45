import { createServer, type Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { lastSeenIn } from '#runtime/live/event-stream.rules'
import { type Fan, openFan } from '#runtime/live/fan'
import { openLine } from '#test/make/line'
import { giveSigns } from '#test/make/signs'
import { openStream, type RawStream } from '#test/make/stream'

let fan: Fan
let server: Server
let url: string
let seq = 10
const open: RawStream[] = []

beforeEach(async () => {
  seq = 10
  fan = openFan({
    make: (topic, at) => ({ data: `{"seq":${at},"of":"${topic}"}`, upTo: at }),
    seqNow: () => seq,
    now: () => 0,
    heartbeatMs: 100,
    silentMs: 500,
    lastWordsMs: 100,
  })
  server = createServer({ keepAlive: true }, (request, response) => {
    if (request.method === 'POST') {
      fan.hears(new URL(request.url ?? '', url).searchParams.get('stream') ?? '')
      response.writeHead(204).end()
      // As a server does with a line that asks nothing more for a while.
      setTimeout(() => request.socket.destroy(), 20)
      return
    }
    fan.watch(response, ['lots'], lastSeenIn(request.headers['last-event-id']))
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  url = `http://127.0.0.1:${(server.address() as AddressInfo).port}`
})
afterEach(() => {
  for (const one of open.splice(0)) one.close()
  fan.close()
  server.closeAllConnections()
  server.close()
})

const stream = async (headers: Record<string, string> = {}) => {
  const one = openStream(url, '/', headers)
  open.push(one)
  await expect.poll(() => one.token()).not.toBe('')
  return one
}

test('readers that never read are let go though all that was sent to them fits into the kernel, and those who say that they read stay', async () => {
  const readers = await Promise.all(Array.from({ length: 20 }, () => stream()))
  const [honest, ...silent] = readers
  for (const one of silent) one.stopReading()
  const signs = setInterval(() => fan.hears(honest?.token() ?? ''), 100)
  await expect.poll(() => fan.watching()).toBe(1)
  await new Promise((resolve) => setTimeout(resolve, 800))
  clearInterval(signs)
  expect(fan.watching()).toBe(1)
  expect(honest?.isOver).toBe(false)
})

test('who measures with many streams keeps them all, though the server closes a line that asks nothing for a moment', async () => {
  const readers = await Promise.all(Array.from({ length: 20 }, () => stream()))
  const stop = giveSigns(
    Number(new URL(url).port),
    readers.map((one) => one.token()),
    300,
  )
  await new Promise((resolve) => setTimeout(resolve, 1_200))
  stop()
  expect(readers.filter((one) => one.isOver)).toEqual([])
  expect(fan.watching()).toBe(20)
})

test('whoever reads and says nothing is told when to come back, and is brought only what it missed', async () => {
  const one = await stream()
  await expect.poll(() => one.isOver).toBe(true)
  expect(one.heard).toMatch(/\nretry: \d+\n\n$/)
  const again = await stream({ 'last-event-id': `${fan.name}.10` })
  expect(again.heard).not.toContain('event: lots')
  seq = 11
  fan.touch([['lots', 11]])
  await expect.poll(() => again.heard).toContain('data: {"seq":11,"of":"lots"}')
})

test('a page whose machine is gone without a word, behind a line that carries nothing any more, is let go and its line closed', async () => {
  const line = await openLine(Number(new URL(url).port))
  const lines = () => new Promise<number>((resolve) => server.getConnections((_, count) => resolve(count)))
  try {
    const one = openStream(`http://127.0.0.1:${line.port}`, '/')
    await expect.poll(() => one.token()).not.toBe('')
    line.cut()
    one.close()
    await expect.poll(() => one.isOver).toBe(true)
    // That its end is gone has not come through.
    await new Promise((resolve) => setTimeout(resolve, 200))
    expect([fan.watching(), await lines()]).toEqual([1, 1])
    await expect.poll(() => fan.watching()).toBe(0)
    await expect.poll(lines).toBe(0)
  } finally {
    line.close()
  }
})

test('a sign for a stream of somebody else is none of this fan’s', async () => {
  const one = await stream()
  expect(fan.hears(one.token())).toBe(true)
  expect(fan.hears(`${one.token()}x`)).toBe(false)
  expect(fan.hears('')).toBe(false)
})

test('a page whose last number was never given here is brought everything, told that numbers began anew, and keeps no number of before', async () => {
  const one = await stream({ 'last-event-id': '999' })
  await expect.poll(() => one.heard).toContain('event: lots')
  expect(one.heard).toContain('id: 0\nevent: hello')
  expect(one.heard).toContain('"isAnew":true')
  expect(one.heard).toContain(`id: ${fan.name}.10\nevent: lots`)
  const ordinary = await stream({ 'last-event-id': `${fan.name}.10` })
  expect(ordinary.heard).toContain('"isAnew":false')
  expect(ordinary.heard).not.toContain('id: 0')
})
