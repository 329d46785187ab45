import { createServer, type Server } from 'node:http'
import { type AddressInfo, connect } from 'node:net'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { lastSeenIn } from '#runtime/live/event-stream.rules'
import { type Hub, openHub } from '#runtime/live/hub'
import type { LiveTopic } from '#runtime/live/live'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
let hub: Hub
let server: Server
let url: string
let state = 0
let seq = 0
let framesMade = 0
let weight = ''
let isBroken = false
const faults: string[] = []

const counter: LiveTopic = {
  prefix: 'count:',
  audience: 'public',
  touchedBy: (fact) => (fact.kind === 'counted' ? [fact.subject] : []),
  frame: (_sight, topic) => {
    framesMade++
    if (topic === 'count:b' && isBroken) throw new Error('no such table')
    return topic === 'count:nothing' ? null : { state, ...(weight && { weight }) }
  },
}

const happen = (kind = 'counted', subject = 'count:a') => {
  state++
  seq++
  hub.announce([{ seq, at: 0, kind, subject, body: {} }])
}
let settled: () => void = () => {}

/** Two watchers in one go. A heartbeat goes round as well, so a test that counts goes has it beat later. */
const openCounting = (heartbeatMs = 200): Hub =>
  openHub({
    topics: [counter],
    sight: stage.sight,
    seqNow: () => seq,
    settle: () => settled(),
    fault: (reason, topic) => faults.push(`${topic}: ${reason instanceof Error ? reason.message : ''}`),
    heartbeatMs,
    stuckMs: 300,
    inOneGo: 2,
  })

beforeEach(async () => {
  stage = openStage()
  state = 0
  seq = 10
  framesMade = 0
  weight = ''
  settled = () => {}
  isBroken = false
  faults.length = 0
  hub = openCounting()
  server = createServer((request, response) => {
    hub.watch(
      response,
      request.url === '/both' ? ['count:a', 'count:b'] : ['count:a', 'count:nothing'],
      lastSeenIn(request.headers['last-event-id']),
    )
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  url = `http://127.0.0.1:${(server.address() as AddressInfo).port}`
})
afterEach(() => {
  hub.close()
  server.closeAllConnections()
  server.close()
  stage.close()
})

/** Watches until `enough` says so, and answers everything that was sent. */
async function watchUntil(
  enough: (text: string) => boolean,
  headers: Record<string, string> = {},
  meanwhile: () => void = () => {},
  path = '/',
): Promise<string> {
  const answer = await fetch(url + path, { headers })
  const reader = answer.body?.pipeThrough(new TextDecoderStream()).getReader()
  let text = ''
  let started = false
  while (reader) {
    const { value, done } = await reader.read()
    if (done) break
    text += value
    if (!started && text.includes('beat')) {
      started = true
      meanwhile()
    }
    if (enough(text)) break
  }
  await reader?.cancel()
  return text
}

const statesIn = (text: string) => [...text.matchAll(/"state":(\d+)/g)].map(([, n]) => Number(n))

test('the first frame of a topic is its present state, with the sequence it stands at', async () => {
  state = 7
  const text = await watchUntil((sent) => sent.includes('"state"'))
  expect(text).toContain(`id: ${hub.name}.10\nevent: count:a\ndata: {"seq":10,"state":7}`)
  expect(text).not.toContain('event: count:nothing')
})

test('a watcher that comes back with the last sequence is sent nothing twice, and what it missed at once', async () => {
  const nothingNew = await watchUntil(
    (sent) => sent.includes('"state"'),
    { 'last-event-id': `${hub.name}.10` },
    () => setTimeout(happen, 30),
  )
  expect(statesIn(nothingNew)).toEqual([1])
  const missed = await watchUntil((sent) => sent.includes('"state"'), { 'last-event-id': `${hub.name}.9` })
  expect(statesIn(missed)).toEqual([1])
})

test('of a hundred changes in one breath the first frame and the last state are sent, each made once', async () => {
  const text = await watchUntil(
    (sent) => sent.includes('"state":100'),
    {},
    () => {
      for (let n = 0; n < 100; n++) happen()
    },
  )
  expect(statesIn(text).at(-1)).toBe(100)
  expect(statesIn(text).length).toBeLessThanOrEqual(4)
  expect(framesMade).toBeLessThanOrEqual(6)
})

test('a fact that touches no topic sends nothing', async () => {
  const text = await watchUntil(
    (sent) => sent.includes('"state":2'),
    {},
    () => {
      happen('something else')
      happen()
    },
  )
  expect(statesIn(text)).toEqual([0, 2])
})

test('a watcher that left is forgotten', async () => {
  await watchUntil((sent) => sent.includes('"state"'))
  await expect.poll(() => hub.watching()).toBe(0)
})

/** Reads nothing until told to, as a page on a line that has stopped. */
async function watchWithoutReading() {
  const { port } = new URL(url)
  const socket = connect(Number(port), '127.0.0.1')
  await new Promise<void>((resolve) => socket.once('connect', () => resolve()))
  socket.write('GET / HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n')
  await expect.poll(() => hub.watching()).toBe(1)
  return socket
}

test('a watcher that reads nothing holds up nobody and is let go after a while', async () => {
  // More than the kernel keeps for one connection.
  weight = 'x'.repeat(4_000_000)
  const socket = await watchWithoutReading()
  for (let n = 0; n < 4; n++) {
    happen()
    await new Promise((resolve) => setTimeout(resolve, 110))
  }
  weight = ''
  const other = await watchUntil((sent) => sent.includes('"state":4'))
  expect(statesIn(other)).toContain(4)
  await expect.poll(() => hub.watching(), { timeout: 3000 }).toBe(0)
  socket.destroy()
})

test('a watcher that was slow is sent the latest state, not all that it missed', async () => {
  weight = 'x'.repeat(4_000_000)
  const socket = await watchWithoutReading()
  weight = ''
  const seen: number[] = []
  for (let n = 0; n < 30; n++) happen()
  await new Promise((resolve) => setTimeout(resolve, 120))
  for (let n = 0; n < 30; n++) happen()
  socket.on('data', (part: Buffer) => seen.push(...statesIn(part.toString('latin1'))))
  await expect.poll(() => seen.at(-1)).toBe(60)
  expect(seen.length).toBeLessThan(5)
  socket.destroy()
})

test('fifty who come at once are sent a state that was made once', async () => {
  await watchUntil((sent) => sent.includes('"state"'))
  framesMade = 0
  const texts = await Promise.all(Array.from({ length: 50 }, () => watchUntil((sent) => sent.includes('"state"'))))
  expect(texts.every((text) => statesIn(text).length === 1)).toBe(true)
  // Two topics, one of them with nothing to say.
  expect(framesMade).toBeLessThan(50)
})

test('what happens while a round goes is brought in that round to whoever it has not reached', async () => {
  hub.close()
  hub = openCounting(60_000)
  const texts = ['', '', '', '', '']
  const readers = await Promise.all(texts.map(async () => (await fetch(url)).body?.pipeThrough(new TextDecoderStream()).getReader()))
  await expect.poll(() => hub.watching()).toBe(5)
  for (const [n, reader] of readers.entries())
    void (async () => {
      for (;;) {
        const { value, done } = (await reader?.read()) ?? { value: undefined, done: true }
        if (done) return
        texts[n] += value
      }
    })()
  await expect.poll(() => texts.every((text) => text.includes('"state":0'))).toBe(true)
  let goes = 0
  // Before the third go, which has the last watcher alone, something more happens.
  settled = () => {
    if (++goes === 3) happen()
  }
  happen()
  await expect.poll(() => texts.every((text) => text.includes('"state":2'))).toBe(true)
  expect(texts.map((text) => statesIn(text).join(' '))).toEqual(['0 1 2', '0 1 2', '0 1 2', '0 1 2', '0 2'])
  await Promise.all(readers.map((reader) => reader?.cancel()))
})

test('an id is never ahead of news that wait: whoever comes back with it is brought them', async () => {
  const text = await watchUntil(
    (sent) => sent.includes('"seq":12'),
    {},
    () => {
      // The first goes at once; the second waits its time, and meanwhile another topic goes.
      happen()
      happen()
      happen('counted', 'count:b')
    },
    '/both',
  )
  let number = ''
  const ids: string[] = []
  for (const [, id, name, at] of text.matchAll(/id: \S+\.(\d+)|event: (count:\w+)\ndata: \{"seq":(\d+)/g)) {
    // An event that brings no number leaves its reader the one that it has.
    number = id ?? number
    if (name !== undefined) ids.push(`${name} ${at} says ${number}`)
  }
  expect(ids).toContain('count:b 13 says 11')
  expect(ids.at(-1)).toBe('count:a 12 says 12')
  const again = await watchUntil(
    (sent) => sent.includes('event: count:a'),
    { 'last-event-id': `${hub.name}.11` },
    () => {},
    '/both',
  )
  expect(again).toContain('"state":3')
})

test('a frame that cannot be made is told and holds up no other', async () => {
  const text = await watchUntil(
    (sent) => sent.includes('"state":4'),
    {},
    () => {
      isBroken = true
      happen('counted', 'count:b')
      happen()
      setTimeout(() => {
        happen('counted', 'count:b')
        happen()
      }, 120)
    },
    '/both',
  )
  expect(text).toContain('event: count:a\ndata: {"seq":14,"state":4')
  expect(faults).toContain('count:b: no such table')
})
