import { request } from 'node:https'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { type NatsCluster, openNatsServers } from '#test/make/nats'
import { NATS_SERVER } from '#test/make/neighbour'
import { NGINX, type Nginx, openNginxBeforeRelays } from '#test/make/nginx'
import { startRelay } from '#test/make/relay'
import { sendFrom } from '#test/make/send-from'
import { openStage, type Stage } from '#test/stage'
import { openStageDoor } from '../web/open-door'

// The guide's own configuration: a real nginx before two relays in processes of their own, and a house behind them.

const IS_LEFT_OUT = NGINX === null || NATS_SERVER === null
if (IS_LEFT_OUT)
  console.warn('nginx, openssl or nats-server is not here: the guide "More watchers than one machine carries" is not tried out.')

const ORIGIN = 'https://auction.example'

describe.skipIf(IS_LEFT_OUT)('two relays behind nginx, as the guide sets them up', () => {
  let nats: NatsCluster
  let stage: Stage
  let door: Awaited<ReturnType<typeof openStageDoor>>
  let sending: Awaited<ReturnType<typeof sendFrom>>
  let relays: Awaited<ReturnType<typeof startRelay>>[]
  let nginx: Nginx
  let lot: number
  const ends: (() => void)[] = []

  beforeAll(async () => {
    nats = await openNatsServers(1)
    stage = openStage({ publicUrl: ORIGIN, now: Date.now() })
    lot = (await makeOpenLot(stage)).number
    door = await openStageDoor(stage, { trustedProxy: 'x-forwarded-for' })
    sending = await sendFrom(stage, door.url, nats.urls)
    relays = [await startRelay(stage, nats.urls), await startRelay(stage, nats.urls)]
    nginx = await openNginxBeforeRelays([relays[0]?.port ?? 0, relays[1]?.port ?? 0])
  })
  afterAll(async () => {
    for (const end of ends) end()
    await nginx?.stop()
    await Promise.all(relays?.map((relay) => relay.kill()) ?? [])
    await sending?.close()
    door?.close()
    stage?.close()
    await nats?.stop()
  })

  const ask = (path: string, headers: Record<string, string> = {}, body?: string) => {
    const asked = request({
      host: '127.0.0.1',
      port: nginx.https,
      path,
      method: body === undefined ? 'GET' : 'POST',
      servername: 'auction.example',
      ca: nginx.certificate,
      headers: { host: 'auction.example', ...headers },
      agent: false,
    })
    asked.on('error', () => {})
    asked.end(body)
    ends.push(() => asked.destroy())
    return asked
  }
  /** Follows as a browser does: when its stream breaks off it asks again with the last id that it had. */
  const follow = () => {
    const seen = { text: '', streams: 0, lastSeq: -1 }
    let lastId: string | undefined
    const open = () => {
      ask(`/live?topics=lot:${lot}`, lastId === undefined ? {} : { 'last-event-id': lastId })
        .on('response', (answer) => {
          if (answer.statusCode === 200) seen.streams += 1
          answer.on('data', (part: Buffer) => {
            seen.text += part
            lastId = [...seen.text.matchAll(/^id: (\S+)$/gm)].at(-1)?.[1] ?? lastId
            seen.lastSeq = Number([...seen.text.matchAll(/^data: \{"seq":(\d+)/gm)].at(-1)?.[1] ?? seen.lastSeq)
          })
          answer.on('close', again)
          answer.on('error', () => {})
        })
        .on('error', again)
    }
    let isOver = false
    ends.push(() => {
      isOver = true
    })
    const again = () => {
      if (!isOver) setTimeout(open, 200)
    }
    open()
    return seen
  }

  test('a bid through nginx and a relay reaches the house, and is on every screen; a relay that is killed costs its watchers a moment', async () => {
    const screens = [follow(), follow(), follow(), follow()]
    await expect.poll(() => screens.every(({ lastSeq }) => lastSeq >= 0)).toBe(true)
    // All of them are at relays.
    expect(stage.house.hub.watching()).toBe(0)
    await makeBidder(stage, 'Ada')
    const cookie = await door.sessionOf((await stage.actor('bidder', 'Ada')).personId)
    const bid = (key: string, maximum: string) =>
      new Promise<number>((resolve) =>
        ask(
          '/api/trpc/bidding.place',
          { cookie, origin: ORIGIN, 'content-type': 'application/json' },
          JSON.stringify({ lot, key, maximum }),
        ).on('response', (answer) => {
          answer.resume()
          resolve(answer.statusCode ?? 0)
        }),
      )
    expect(await bid('through-nginx-and-relay-1', '200')).toBe(200)
    const first = stage.house.seqNow()
    await expect.poll(() => screens.map(({ lastSeq }) => lastSeq)).toEqual([first, first, first, first])

    await relays[0]?.kill()
    expect(await bid('through-nginx-and-relay-2', '400')).toBe(200)
    const second = stage.house.seqNow()
    expect(second).toBeGreaterThan(first)
    await expect.poll(() => screens.map(({ lastSeq }) => lastSeq)).toEqual([second, second, second, second])
    // Those of the other relay heard nothing of it.
    expect(screens.some(({ streams }) => streams === 1)).toBe(true)
    expect(screens.some(({ streams }) => streams > 1)).toBe(true)
  })
})
