import { generateKeyPairSync, sign } from 'node:crypto'
import { createServer, type Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { thumbprintOf } from '#runtime/disk/keys'
import { lastSeenIn } from '#runtime/live/event-stream.rules'
import type { Nats } from '#runtime/nats/nats'
import { openReceiver, type Receiver } from '#runtime/relay/receiver'
import { type Kind, openSigning } from '#runtime/relay/signed'
import { type HouseBeat, packBeat, packFrame, subjects, WIRE } from '#runtime/relay/wire'
import { openLog } from '#runtime/settings/log'
import { openLine } from '#test/make/line'
import { openStream, type RawStream } from '#test/make/stream'

const pair = generateKeyPairSync('ed25519')
const { x = '' } = pair.publicKey.export({ format: 'jwk' })
const kid = thumbprintOf({ crv: 'Ed25519', kty: 'OKP', x })
const signing = openSigning(x, (bytes) => sign(null, bytes, pair.privateKey))
const to = subjects(`tagstrip.${kid}`)
const TOPICS = ['lot:', 'lots', 'meter']

/** A message as it comes, signed by the house unless told otherwise. */
interface Heard {
  data: Uint8Array
  subject: string
  headers: { get(name: string): string }
}
const messageOf = (subject: string, kind: Kind, data: Uint8Array, signed = signing(kind, data)): Heard => ({
  data,
  subject,
  headers: { get: () => signed },
})

/** A house beyond NATS, word by word: what is sent, what is lost and what is answered is the test's to say. */
let beat: HouseBeat
let states: Map<string, { seq: number; upTo: number }>
let hearers: Map<string, (message: Heard) => void>
/** What a question for a state waits for, or is refused by. */
let before: (topic: string) => Promise<void> | void
let asked: string[]
let nats: Nats
let receiver: Receiver
let server: Server
const open: RawStream[] = []

const frameOf = (topic: string) => {
  const { seq, upTo } = states.get(topic) ?? { seq: 0, upTo: 0 }
  return packFrame({ run: beat.run, nth: beat.sent, topic, seq, upTo, data: `{"seq":${seq},"of":"${beat.epoch}"}` })
}
const say = (message: Heard) => hearers.get(message.subject)?.(message)
const sayBeat = (one = beat) => say(messageOf(to.beat, 'beat', packBeat(one)))
/** Something happens in the house: its frame goes out, and may be lost. */
const happen = (topic: string, seq: number, isLost = false, upTo = seq) => {
  states.set(topic, { seq, upTo })
  beat = { ...beat, sent: beat.sent + 1, seq: Math.max(beat.seq, seq) }
  if (!isLost) say(messageOf(to.frames, 'frame', frameOf(topic)))
}

beforeEach(async () => {
  beat = {
    wire: WIRE,
    run: 'first-run',
    epoch: 'first',
    sent: 0,
    seq: 100,
    now: 0,
    trouble: null,
    build: 'one build',
    url: '',
    publicUrl: '',
    topics: TOPICS,
  }
  states = new Map([
    ['lot:7', { seq: 90, upTo: 90 }],
    ['lots', { seq: 95, upTo: 95 }],
  ])
  hearers = new Map()
  before = () => {}
  asked = []
  const connection = {
    subscribe(subject: string, { callback }: { callback(error: null, message: Heard): void }) {
      hearers.set(subject, (message) => callback(null, message))
      return { unsubscribe: () => hearers.delete(subject) }
    },
    publish: () => {},
    async request(subject: string, topic: string) {
      if (subject === to.now) return messageOf(subject, 'beat', packBeat(beat))
      asked.push(topic)
      await before(topic)
      return messageOf(subject, 'frame', states.has(topic) ? frameOf(topic) : new Uint8Array())
    },
  }
  nats = { connection, trouble: () => null, onChange: () => {}, close: async () => {} } as unknown as Nats
  receiver = openReceiver({ nats, kid, build: 'one build', log: openLog('silent') })
  server = createServer((request, response) => {
    const topics = (new URL(request.url ?? '', 'http://relay.example').searchParams.get('topics') ?? '').split(',')
    receiver.watch(response, topics, lastSeenIn(request.headers['last-event-id'])).catch(() => response.writeHead(503).end())
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  await receiver.met()
})
afterEach(() => {
  for (const one of open.splice(0)) one.close()
  receiver.close()
  server.closeAllConnections()
  server.close()
})

const watch = (topics: string, number?: string): RawStream => {
  const { port } = server.address() as AddressInfo
  const one = openStream(`http://127.0.0.1:${port}`, `/live?topics=${topics}`, number === undefined ? {} : { 'last-event-id': number })
  open.push(one)
  return one
}
const numberOf = ({ heard }: RawStream) => [...heard.matchAll(/^id: (\S+)$/gm)].at(-1)?.[1]
const lastOf = ({ heard }: RawStream, topic: string) => heard.split(`event: ${topic}\ndata: `).at(-1)?.split('\n')[0]

test('a copy that was opened and has overtaken what is held here is brought whole to whoever stayed', async () => {
  const one = watch('lot:7,lots')
  await expect.poll(() => numberOf(one)).toBe('first.95')
  // The house was opened from a copy of fact 80, and 30 others have happened since, none of them to these.
  states = new Map([
    ['lot:7', { seq: 70, upTo: 70 }],
    ['lots', { seq: 75, upTo: 75 }],
  ])
  beat = { ...beat, run: 'second-run', epoch: 'second', sent: 0, seq: 110 }
  sayBeat()
  await expect.poll(() => lastOf(one, 'lot:7')).toBe('{"seq":70,"of":"second"}')
  await expect.poll(() => lastOf(one, 'lots')).toBe('{"seq":75,"of":"second"}')
  expect(numberOf(one)).toBe('second.75')
  // What it has of the former count means nothing in this one.
  const back = watch('lot:7,lots', 'first.95')
  await expect.poll(() => lastOf(back, 'lots')).toBe('{"seq":75,"of":"second"}')
})

test('a state that could not be had while everything was brought anew is asked for again', async () => {
  const one = watch('lot:7,lots')
  await expect.poll(() => numberOf(one)).toBe('first.95')
  beat = { ...beat, run: 'second-run', epoch: 'second', sent: 0, seq: 101 }
  before = (topic) => {
    if (topic === 'lots') throw new Error('the house is busy')
  }
  sayBeat()
  await expect.poll(() => asked.filter((topic) => topic === 'lots').length).toBe(2)
  before = () => {}
  await expect
    .poll(() => {
      sayBeat()
      return lastOf(one, 'lots')
    })
    .toBe('{"seq":95,"of":"second"}')
})

test('a frame that was lost on the way is brought after the next beat, and no number says meanwhile that it was had', async () => {
  const one = watch('lot:7,lots')
  await expect.poll(() => numberOf(one)).toBe('first.95')
  happen('lot:7', 101, true)
  happen('lots', 102)
  await expect.poll(() => lastOf(one, 'lots')).toContain('"seq":102')
  expect(numberOf(one)).toBe('first.95')
  sayBeat()
  await expect.poll(() => lastOf(one, 'lot:7')).toContain('"seq":101')
  happen('lots', 103)
  await expect.poll(() => numberOf(one)).toBe('first.103')
})

test('a state that was held and is let go while another is waited for is asked for again before the stream opens', async () => {
  let go = () => {}
  const waits = new Promise<void>((resolve) => {
    go = resolve
  })
  before = (topic) => (topic === 'lots' ? waits : undefined)
  const one = watch('lot:7,lots')
  await expect.poll(() => asked).toEqual(['lot:7', 'lots'])
  // A frame was lost, so what nobody watches yet is let go.
  happen('meter', 101, true)
  sayBeat()
  go()
  await expect.poll(() => lastOf(one, 'lots')).toContain('"seq":95')
  await expect.poll(() => lastOf(one, 'lot:7')).toContain('"seq":90')
})

test('numbers never go back here either, in whichever order states come that promise less', async () => {
  const both = [watch('lot:7,lots'), watch('lot:7,lots')]
  await expect.poll(() => both.map(numberOf)).toEqual(['first.95', 'first.95'])
  // The lots went out while a bid on the lot waited its time.
  happen('lots', 102, false, 100)
  happen('lot:7', 101)
  await expect.poll(() => both.map((one) => lastOf(one, 'lot:7'))).toEqual(both.map(() => '{"seq":101,"of":"first"}'))
  const late = watch('lot:7,lots')
  await expect.poll(() => numberOf(late)).toBe('first.101')
  for (const one of [...both, late]) {
    const numbers = [...one.heard.matchAll(/^id: first\.(\d+)$/gm)].map(([, number]) => Number(number))
    expect(numbers).toEqual([...numbers].sort((a, b) => a - b))
  }
})

test('a page that is gone without a word is let go here as well', async () => {
  receiver.close()
  const fan = { heartbeatMs: 100, silentMs: 300, lastWordsMs: 50 }
  receiver = openReceiver({ nats, kid, build: 'one build', log: openLog('silent'), fan })
  await receiver.met()
  const line = await openLine((server.address() as AddressInfo).port)
  const lines = () => new Promise<number>((resolve) => server.getConnections((_, count) => resolve(count)))
  try {
    const one = openStream(`http://127.0.0.1:${line.port}`, '/live?topics=lots')
    await expect.poll(() => one.token()).not.toBe('')
    line.cut()
    one.close()
    await expect.poll(() => receiver.fan.watching()).toBe(0)
    await expect.poll(lines).toBe(0)
  } finally {
    line.close()
  }
})

test('what the house did not sign is neither shown nor believed, nor what it signed as something else or for another run', async () => {
  const one = watch('lot:7,lots')
  await expect.poll(() => lastOf(one, 'lots')).toContain('95')
  const other = generateKeyPairSync('ed25519')
  const { x: theirs = '' } = other.publicKey.export({ format: 'jwk' })
  const asAnother = openSigning(theirs, (bytes) => sign(null, bytes, other.privateKey))
  const frame = packFrame({ run: beat.run, nth: 1, topic: 'lots', seq: 999, upTo: 999, data: '{"forged":true}' })
  const robbed = packBeat({ ...beat, url: 'http://robber.example', now: 10 })
  const signatures = (kind: Kind, bytes: Uint8Array) => [
    ...['', 'x', `${x}.`, asAnother(kind, bytes), signing(kind === 'beat' ? 'frame' : 'beat', bytes)],
    `${x}.${asAnother(kind, bytes).split('.')[1]}`,
  ]
  for (const signed of signatures('frame', frame)) say(messageOf(to.frames, 'frame', frame, signed))
  for (const signed of signatures('beat', robbed)) say(messageOf(to.beat, 'beat', robbed, signed))
  // The very words of an earlier run, sent again while the house is there.
  const earlier = packBeat({ ...beat, run: 'a run before', url: 'http://old.example', now: -1 })
  say(messageOf(to.beat, 'beat', earlier))
  // An answer to another question.
  states.set('lots', { seq: 96, upTo: 96 })
  happen('lots', 97)
  await expect.poll(() => lastOf(one, 'lots')).toContain('97')
  expect(one.heard).not.toContain('forged')
  expect(receiver.house()).toMatchObject({ url: '', run: 'first-run' })
  expect(receiver.trouble()).toBeNull()
})

test('a house of an earlier version signs nothing, and that it is of another is said; one that is later says so itself', async () => {
  receiver.close()
  const silent = { ...(nats.connection as object), request: () => Promise.reject(new Error('nobody')) }
  receiver = openReceiver({ nats: { ...nats, connection: silent } as unknown as Nats, kid, build: 'one build', log: openLog('silent') })
  say(messageOf(to.beat, 'beat', packBeat({ ...beat, wire: WIRE - 1, url: 'http://anywhere.example' }), ''))
  expect(receiver.trouble()).toContain('This relay is a different version from its house')
  expect(receiver.house()).toBeNull()
  sayBeat()
  expect(receiver.trouble()).toBeNull()
  sayBeat({ ...beat, run: 'a later version', wire: WIRE + 1, now: 1 })
  expect(receiver.trouble()).toContain('This relay is a different version from its house')
})
