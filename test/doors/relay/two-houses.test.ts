import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest'
import { houseNames } from '#runtime/nats/house-names'
import { openNats } from '#runtime/nats/nats'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { type NatsCluster, openNatsServers } from '#test/make/nats'
import { NATS_SERVER } from '#test/make/neighbour'
import { openRelay } from '#test/make/relay'
import { sendFrom } from '#test/make/send-from'
import { openStream } from '#test/make/stream'
import { openStage } from '#test/stage'
import { openStageDoor } from '../web/open-door'

describe.skipIf(NATS_SERVER === null)('two houses on one NATS', () => {
  let nats: NatsCluster
  const ends: (() => unknown)[] = []
  beforeAll(async () => {
    nats = await openNatsServers(1)
  })
  afterAll(async () => {
    await nats?.stop()
  })
  afterEach(async () => {
    for (const end of ends.splice(0).reverse()) await end()
  })

  /** A house with an open lot, a relay of it, and a screen at the relay that follows the lot. Both houses call their lot by the same number. */
  const openOne = async () => {
    const stage = openStage({ now: Date.now() })
    ends.push(() => stage.close())
    const { number: lot } = await makeOpenLot(stage)
    const ada = await makeBidder(stage, 'Ada')
    const door = await openStageDoor(stage)
    ends.push(() => door.close())
    const { prefix } = houseNames(stage.house.keys.jwks())
    const sending = await sendFrom(stage, door.url, nats.urls)
    ends.push(() => sending.close())
    const relay = await openRelay(stage, nats.urls, { RELAY_OF: prefix.replace('tagstrip.', '') })
    ends.push(() => relay.close())
    const screen = openStream(relay.url, `/live?topics=lot:${lot}`)
    ends.push(() => screen.close())
    await expect.poll(() => screen.heard).toContain(`event: lot:${lot}`)
    const frames = () => screen.heard.split(`event: lot:${lot}\n`).length - 1
    return { stage, lot, ada, relay, prefix, screen, frames }
  }

  test('never hear one another: each relay brings what its own house sends, and asks nobody else', async () => {
    const [one, other] = [await openOne(), await openOne()]
    expect(one.lot).toBe(other.lot)
    expect(one.prefix).not.toBe(other.prefix)
    const listener = await openNats({ urls: nats.urls, name: 'a listener' })
    ends.push(() => listener.close())
    const sent: string[] = []
    listener.connection.subscribe('>', { callback: (_, { subject }) => void sent.push(subject) })
    await listener.connection.flush()

    const before = other.frames()
    await one.ada.bid(one.lot, '500')
    await expect.poll(() => one.screen.heard).toContain(`"seq":${one.stage.house.seqNow()}`)
    // Its bid went out under its own name; the other's next is the first that its screen hears of.
    expect(sent.filter((subject) => subject.endsWith('.live.frames'))).toContain(`${one.prefix}.live.frames`)
    expect(sent).not.toContain(`${other.prefix}.live.frames`)
    await other.ada.bid(other.lot, '700')
    await expect.poll(() => other.screen.heard).toContain(`"seq":${other.stage.house.seqNow()}`)
    expect(other.frames()).toBe(before + 1)
    expect(sent.filter((subject) => !subject.startsWith(`${one.prefix}.`) && !subject.startsWith(`${other.prefix}.`))).toEqual(
      sent.filter((subject) => subject.startsWith('_INBOX.')),
    )

    // A number of the one is another count to the other.
    const number = [...one.screen.heard.matchAll(/^id: (\S+)$/gm)].at(-1)?.[1] ?? ''
    const stranger = openStream(other.relay.url, `/live?topics=lot:${other.lot}`, { 'last-event-id': number })
    ends.push(() => stranger.close())
    await expect.poll(() => stranger.heard).toContain(`event: lot:${other.lot}`)
  })

  test('a relay that was not told whose it is opens for nobody, however few speak, and says what to set', async () => {
    const one = await openOne()
    await expect(openRelay(one.stage, nats.urls, { RELAY_OF: '' })).rejects.toThrow('set RELAY_OF to the name of its house')
    await expect(openRelay(one.stage, nats.urls, { RELAY_OF: 'our-house' })).rejects.toThrow('RELAY_OF wants the 43 letters')
  })

  test('somebody with a key of their own who speaks on NATS alone is not taken for the house: no page of theirs, no cookie to them', async () => {
    const one = openStage({ now: Date.now() })
    ends.push(() => one.close())
    const forger = openStage({ now: Date.now() })
    ends.push(() => forger.close())
    const asked: string[] = []
    const door = await openStageDoor(forger, {
      pages: async (request, response) => {
        asked.push(request.headers.cookie ?? '')
        response.writeHead(200).end('an evil page')
      },
    })
    ends.push(() => door.close())
    const sending = await sendFrom(forger, door.url, nats.urls)
    ends.push(() => sending.close())
    await expect(openRelay(one, nats.urls, { RELAY_OF: '' })).rejects.toThrow('set RELAY_OF')
    const relay = await openRelay(one, nats.urls)
    ends.push(() => relay.close())
    // Also in the house's own name, where they may send there.
    const { prefix } = houseNames(one.house.keys.jwks())
    const { prefix: theirs } = houseNames(forger.house.keys.jwks())
    const listener = await openNats({ urls: nats.urls, name: 'the forger' })
    ends.push(() => listener.close())
    let passed = 0
    listener.connection.subscribe(`${theirs}.live.beat`, {
      callback: (_, { data, headers }) => {
        passed++
        listener.connection.publish(`${prefix}.live.beat`, data, headers ? { headers } : {})
      },
    })
    await expect.poll(() => passed, { timeout: 5_000 }).toBeGreaterThan(1)
    const page = await fetch(`${relay.url}/me`, { headers: { cookie: 'session=mine' } })
    expect(page.status).toBe(502)
    expect(await page.text()).not.toContain('evil')
    expect(asked).toEqual([])
  })
})
