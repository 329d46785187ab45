import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { HOUR, MINUTE } from '#kernel/instant'
import { placeTypedBid } from '#sale/bidding/place-bid.service'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { type NatsCluster, openNatsServers } from '#test/make/nats'
import { NATS_SERVER } from '#test/make/neighbour'
import { openRelay } from '#test/make/relay'
import { sendFrom } from '#test/make/send-from'
import { openStream, type RawStream } from '#test/make/stream'
import { openStage } from '#test/stage'
import { openStageDoor } from '../web/open-door'

const WATCHERS = 200
const BIDS = 500

describe.skipIf(NATS_SERVER === null)('every screen of every relay', () => {
  let nats: NatsCluster
  beforeAll(async () => {
    nats = await openNatsServers(1)
  })
  afterAll(async () => {
    await nats?.stop()
  })

  test('has the last of five hundred quick bids, and its numbers never went back', async () => {
    const stage = openStage({ now: Date.now() })
    const lot = (await makeOpenLot(stage, { closesIn: 6 * HOUR })).number
    const bidders = ['Ada', 'Bo']
    for (const name of bidders) await makeBidder(stage, name)
    const door = await openStageDoor(stage, { trustedProxy: 'x-forwarded-for' })
    const sending = await sendFrom(stage, door.url, nats.urls)
    const relays = await Promise.all([0, 1].map(() => openRelay(stage, nats.urls)))
    const screens: RawStream[] = []
    try {
      for (let n = 0; n < WATCHERS; n++)
        screens.push(openStream(relays[n % 2]?.url ?? '', `/live?topics=lot:${lot},lots,meter`, { 'x-forwarded-for': `198.51.100.${n}` }))
      await expect.poll(() => screens.every(({ heard }) => heard.includes('event: meter'))).toBe(true)
      const actors = await Promise.all(bidders.map((name) => stage.actor('bidder', name)))
      await stage.command((turn) => turn.db.run('UPDATE paddle SET ceiling_minor = 100000000000'))
      for (let n = 1; n <= BIDS; n += 20) {
        // A house takes twelve bids a minute of one bidder on a lot.
        stage.clock.set(stage.clock.now() + MINUTE)
        await Promise.all(
          Array.from({ length: 20 }, (_, more) => n + more).map((nth) => {
            const key = `one-of-many-quick-bids-${nth}`.padEnd(32, '-')
            const actor = actors[nth % 2]
            return actor && stage.command((turn) => placeTypedBid(turn, actor, { lot, key, maximum: String(100 + nth * 1_000) }))
          }),
        )
      }
      const last = stage.house.seqNow()
      const onScreen = ({ heard }: RawStream, topic: string) => {
        const from = heard.lastIndexOf(`event: ${topic}\ndata: `)
        const to = heard.indexOf('\n\n', from)
        return from < 0 || to < 0 ? {} : JSON.parse(heard.slice(heard.indexOf('{', from), to))
      }
      await expect.poll(() => screens.filter((one) => onScreen(one, `lot:${lot}`).seq === last).length).toBe(WATCHERS)
      for (const one of screens) {
        expect(onScreen(one, `lot:${lot}`).bids).toBe(BIDS)
        const ids = [...one.heard.matchAll(/^id: (?:\S+\.)?(\d+)$/gm)].map(([, id]) => Number(id))
        expect(ids).toEqual([...ids].sort((a, b) => a - b))
        expect(ids.at(-1)).toBe(last)
        expect(one.isOver).toBe(false)
      }
    } finally {
      for (const one of screens) one.close()
      await Promise.all(relays.map((relay) => relay.close()))
      await sending.close()
      door.close()
      stage.close()
    }
  })
})
