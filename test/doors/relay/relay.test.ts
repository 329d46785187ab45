import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { placeTypedBid } from '#sale/bidding/place-bid.service'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { type NatsCluster, openNatsServers } from '#test/make/nats'
import { NATS_SERVER } from '#test/make/neighbour'
import { openRelay } from '#test/make/relay'
import { sendFrom } from '#test/make/send-from'
import { openStream, type RawStream } from '#test/make/stream'
import { openStage, type Stage } from '#test/stage'
import { openStageDoor } from '../web/open-door'

if (NATS_SERVER === null) console.warn('nats-server is not here: relays are not tried out.')

describe.skipIf(NATS_SERVER === null)('relays', () => {
  let nats: NatsCluster
  let stage: Stage
  let door: Awaited<ReturnType<typeof openStageDoor>>
  let sending: Awaited<ReturnType<typeof sendFrom>>
  let relays: Awaited<ReturnType<typeof openRelay>>[]
  let lot: number
  const open: RawStream[] = []

  beforeAll(async () => {
    nats = await openNatsServers(1)
  })
  afterAll(async () => {
    await nats?.stop()
  })
  beforeEach(async () => {
    stage = openStage({ now: Date.now() })
    lot = (await makeOpenLot(stage)).number
    await makeBidder(stage, 'Ada')
    door = await openStageDoor(stage, { trustedProxy: 'x-forwarded-for' })
    sending = await sendFrom(stage, door.url, nats.urls)
    relays = await Promise.all([0, 1].map(() => openRelay(stage, nats.urls)))
  })
  afterEach(async () => {
    for (const one of open.splice(0)) one.close()
    await Promise.all(relays.map((relay) => relay.close()))
    await sending.close()
    door.close()
    stage.close()
  })

  const watch = (url: string, lastEventId?: string, topics = `lot:${lot},lots,meter`) => {
    const one = openStream(url, `/live?topics=${topics}`, lastEventId === undefined ? {} : { 'last-event-id': lastEventId })
    open.push(one)
    return one
  }
  let bids = 0
  const bid = async () => {
    bids += 1
    const actor = await stage.actor('bidder', 'Ada')
    await stage.command((turn) =>
      placeTypedBid(turn, actor, { lot, key: `a-bid-through-relays-${bids}`.padEnd(24, '-'), maximum: String(100 + bids * 10) }),
    )
  }
  const framesIn = ({ heard }: RawStream) =>
    [...heard.matchAll(/event: (?!hello|beat)(\S+)\ndata: (.*)\n\n/g)].map(([, topic, data]) => ({ topic, data }))
  /** What a browser would come back with. */
  const numberOf = ({ heard }: RawStream) => [...heard.matchAll(/^id: (\S+)$/gm)].at(-1)?.[1] ?? ''
  const lastOf = (stream: RawStream, topic: string) => framesIn(stream).findLast((frame) => frame.topic === topic)
  const seqOf = (stream: RawStream, topic = `lot:${lot}`) => JSON.parse(lastOf(stream, topic)?.data ?? '{"seq":-1}').seq as number

  test('whoever watches through a relay has the same bytes as whoever watches at the house', async () => {
    const [relay, other] = relays
    const streams = [watch(door.url), watch(relay?.url ?? ''), watch(other?.url ?? '')]
    await expect.poll(() => streams.every((stream) => framesIn(stream).length >= 3)).toBe(true)
    await bid()
    await expect.poll(() => streams.map((stream) => seqOf(stream) === stage.house.seqNow())).toEqual([true, true, true])
    const [house, ...through] = streams
    for (const topic of [`lot:${lot}`, 'lots', 'meter'])
      for (const one of through) expect(lastOf(one, topic)?.data).toBe(house && lastOf(house, topic)?.data)
  })

  test('a page may come back to another relay or to the house: it is brought what it missed, and nothing that it has', async () => {
    const [relay, other] = relays
    const first = watch(relay?.url ?? '')
    await expect.poll(() => framesIn(first).length).toBe(3)
    await bid()
    await expect.poll(() => seqOf(first)).toBe(stage.house.seqNow())
    await expect.poll(() => numberOf(first)).toBe(`${stage.house.hub.name}.${stage.house.seqNow()}`)
    first.close()
    const upTo = numberOf(first)
    // The other relay has held nothing so far, and what it gets from the house is as new as the house.
    for (const url of [relay?.url ?? '', door.url]) {
      const again = watch(url, upTo)
      await expect.poll(() => again.heard).toContain('event: beat')
      await new Promise((resolve) => setTimeout(resolve, 150))
      expect(framesIn(again)).toEqual([])
    }
    await bid()
    for (const url of [relay?.url ?? '', other?.url ?? '', door.url]) {
      const again = watch(url, upTo)
      await expect.poll(() => seqOf(again)).toBe(stage.house.seqNow())
    }
  })

  test('a page whose stream comes from another machine may say here that it reads', async () => {
    const [relay, other] = relays
    const heard: string[] = []
    const { hears } = stage.house.hub
    const atHouse = watch(door.url)
    await expect.poll(() => atHouse.token()).not.toBe('')
    stage.house.hub.hears = (token) => {
      heard.push(token)
      return hears(token)
    }
    // The fan of the house was given to NATS before this: it is asked as whoever stands there.
    const told = await fetch(`${relay?.url}/live/here?stream=${atHouse.token()}`, { method: 'POST' })
    expect(told.status).toBe(204)
    await expect.poll(() => heard).toEqual([atHouse.token()])
    expect((await fetch(`${other?.url}/live/here?stream=nobody..of..us`, { method: 'POST' })).status).toBe(204)
  })

  test('when NATS is gone screens say so, and when it is back what was missed comes, though nobody reloads', async () => {
    const [relay] = relays
    const stream = watch(relay?.url ?? '')
    await expect.poll(() => framesIn(stream).length).toBe(3)
    await nats.kill(0)
    await expect.poll(() => stream.heard).toContain('This relay has lost its connection to the house')
    await bid()
    expect(seqOf(stream)).toBeLessThan(stage.house.seqNow())
    await nats.start(0)
    await expect.poll(() => seqOf(stream)).toBe(stage.house.seqNow())
    await expect.poll(() => stream.heard.lastIndexOf('"trouble":null') > stream.heard.lastIndexOf('has lost its connection')).toBe(true)
    expect(stream.isOver).toBe(false)
  })

  test('when the house is silent screens say for how long, and a house that opens again is heard', async () => {
    const [relay] = relays
    const stream = watch(relay?.url ?? '')
    await expect.poll(() => framesIn(stream).length).toBe(3)
    await sending.close()
    await expect.poll(() => stream.heard).toMatch(/has not been heard for [3-9] seconds/)
    expect((await fetch(`${relay?.url}/api/health`)).status).toBe(503)
    await bid()
    sending = await sendFrom(stage, door.url, nats.urls)
    await expect.poll(() => seqOf(stream)).toBe(stage.house.seqNow())
    await expect.poll(async () => (await fetch(`${relay?.url}/api/health`)).status).toBe(200)
  })

  test('a house that was opened from an earlier copy brings everything again, and pages are told that numbers began anew', async () => {
    const [relay] = relays
    const stream = watch(relay?.url ?? '')
    await expect.poll(() => framesIn(stream).length).toBe(3)
    for (let n = 0; n < 3; n++) await bid()
    await expect.poll(() => seqOf(stream)).toBe(stage.house.seqNow())
    const before = stage.house.seqNow()
    await sending.close()
    const earlier = openStage({ now: Date.now() })
    try {
      await makeOpenLot(earlier)
      expect(earlier.house.seqNow()).toBeLessThan(before)
      sending = await sendFrom(earlier, door.url, nats.urls, { signsAs: stage })
      await expect.poll(() => stream.heard).toContain('"isAnew":true')
      await expect.poll(() => seqOf(stream)).toBeLessThanOrEqual(earlier.house.seqNow())
      const fresh = watch(relay?.url ?? '', String(before))
      await expect.poll(() => new Set(framesIn(fresh).map(({ topic }) => topic)).size).toBe(3)
      expect(fresh.heard).toContain('"isAnew":true')
    } finally {
      await sending.close()
      earlier.close()
    }
  })

  test('topics of the staff, calls and whatever changes something are handed on, with the address of whoever asks', async () => {
    const [relay] = relays
    expect((await fetch(`${relay?.url}/live?topics=unit:TERN-01`)).status).toBe(403)
    const cookie = await door.sessionOf((await stage.actor('maker')).personId)
    const staff = openStream(relay?.url ?? '', '/live?topics=unit:TERN-01', { cookie })
    open.push(staff)
    await expect.poll(() => staff.heard).toContain('event: hello')
    const bidder = await door.sessionOf((await stage.actor('bidder', 'Ada')).personId)
    const headers = { 'content-type': 'application/json', origin: stage.house.publicUrl, cookie: bidder }
    const body = JSON.stringify({ lot, key: 'a-bid-through-a-relay-01', maximum: '900' })
    const placed = await fetch(`${relay?.url}/api/trpc/bidding.place`, { method: 'POST', headers, body })
    expect(placed.status).toBe(200)
    const statuses = []
    for (let n = 0; n < 22; n++) {
      const asked = await fetch(`${relay?.url}/api/trpc/people.askCode`, {
        method: 'POST',
        headers: { ...headers, cookie: '', 'x-forwarded-for': '198.51.100.7' },
        body: JSON.stringify({ email: `somebody-${n}@elsewhere.example` }),
      })
      statuses.push(asked.status)
    }
    expect(statuses.slice(-2)).toEqual([429, 429])
  })

  test('the time is the house’s', async () => {
    const [relay] = relays
    stage.clock.set(Date.now() + 3_600_000)
    const later = await openRelay(stage, nats.urls)
    relays.push(later)
    await expect
      .poll(async () =>
        Math.abs(((await (await fetch(`${later.url}/api/now`)).json()) as { answered: number }).answered - stage.clock.now()),
      )
      .toBeLessThan(2_000)
    expect((await fetch(`${relay?.url}/api/now`)).status).toBe(200)
  })

  test('where the house cannot be reached, whoever wants to change something is told that nothing was taken', async () => {
    const [relay] = relays
    door.close()
    const asked = await fetch(`${relay?.url}/api/trpc/bidding.place`, {
      method: 'POST',
      body: '{}',
      headers: { 'content-type': 'application/json' },
    })
    expect(asked.status).toBe(502)
    expect(asked.headers.get('retry-after')).toBe('3')
    expect(await asked.text()).toContain('Nothing was accepted')
  })
})
