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

  test('a relay that was not told whose it is opens for neither, and says which there are', async () => {
    const [one, other] = [await openOne(), await openOne()]
    const opened = openRelay(one.stage, nats.urls)
    await expect(opened).rejects.toThrow('Several houses are on this NATS. Set RELAY_OF')
    for (const { prefix } of [one, other]) await expect(opened).rejects.toThrow(prefix.replace('tagstrip.', ''))
  })
})
