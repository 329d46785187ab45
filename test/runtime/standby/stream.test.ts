import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { houseNames } from '#runtime/nats/house-names'
import { openNats } from '#runtime/nats/nats'
import type { Part } from '#runtime/standby/message'
import { openStream } from '#runtime/standby/stream'
import { openLine } from '#test/make/line'
import { type NatsCluster, openNatsServers } from '#test/make/nats'
import { NATS_SERVER } from '#test/make/neighbour'

let servers: NatsCluster | null = null
beforeAll(async () => {
  if (NATS_SERVER !== null) servers = await openNatsServers()
}, 30_000)
afterAll(async () => {
  await servers?.stop()
})

const message = (number: number, messageId: string): Part => ({ number, messageId, part: '1/1', body: 'sealed' })

describe.skipIf(NATS_SERVER === null)('the stream', () => {
  test('takes a message at its own place alone, and behind the one that it follows alone', async () => {
    const nats = await openNats({ urls: servers?.urls ?? [], name: 'a test' })
    const stream = await openStream(nats, houseNames({ keys: [{ kid: 'a-house' }] }), { hours: 1, megabytes: 10 })
    const [lost, other] = [message(1, 'lost on the way'), message(1, 'of another machine')]
    await stream.publish(other)
    await expect(stream.publish(lost)).rejects.toThrow('wrong last sequence')
    await expect(stream.publish(message(2, 'the next'), lost)).rejects.toThrow('wrong last msg')
    expect((await stream.state()).last).toBe(1)
    await stream.publish(message(2, 'its own next'), other)
    expect(await stream.read(2)).toEqual(message(2, 'its own next'))
    await nats.close()
  })
  test('that the servers no longer have holds nothing', async () => {
    const nats = await openNats({ urls: servers?.urls ?? [], name: 'a test' })
    const names = houseNames({ keys: [{ kid: 'a-house-that-lost-it' }] })
    const stream = await openStream(nats, names, { hours: 1, megabytes: 10 })
    await stream.publish(message(1, 'the first'))
    const { jetstreamManager } = await import('@nats-io/jetstream')
    await (await jetstreamManager(nats.connection)).streams.delete(names.stream)
    expect(await stream.state()).toEqual({ first: 0, last: 0 })
    await nats.close()
  })

  test('is heard again soon after its servers were gone, though they answer nothing at first', { timeout: 60_000 }, async () => {
    const own = await openNatsServers()
    const line = await openLine(own.ports[0] ?? 0)
    const writer = await openNats({ urls: own.urls, name: 'the one that writes' })
    const follower = await openNats({ urls: [`nats://127.0.0.1:${line.port}`], name: 'one that stands by' })
    const names = houseNames({ keys: [{ kid: 'a-house-that-was-out' }] })
    const kept = { hours: 1, megabytes: 10 }
    const stream = await openStream(writer, names, kept)
    const heard: number[] = []
    const follow = await (await openStream(follower, names, kept)).follow(1, ({ number }) => void heard.push(number))
    try {
      await stream.publish(message(1, 'before'))
      await expect.poll(() => heard, { timeout: 5_000 }).toEqual([1])
      // Cut, mended, and cut again while it asks where it stood.
      line.cut()
      await expect.poll(() => follower.trouble(), { timeout: 20_000, interval: 20 }).not.toBeNull()
      line.mend()
      await expect.poll(() => follower.trouble(), { timeout: 20_000, interval: 1 }).toBeNull()
      line.cut()
      await new Promise((resolve) => setTimeout(resolve, 6_000))
      line.mend()
      await stream.publish(message(2, 'after'))
      // Asked again only after half a minute, as it would be by itself, it is not heard by then.
      await expect.poll(() => heard, { timeout: 15_000 }).toEqual([1, 2])
    } finally {
      await follow.stop()
      await follower.close()
      await writer.close()
      line.close()
      await own.stop()
    }
  })

  test('is heard though the server that handed it out is gone, one of three', { timeout: 60_000 }, async () => {
    const own = await openNatsServers(3)
    const names = houseNames({ keys: [{ kid: 'a-house-on-three' }] })
    const kept = { hours: 1, megabytes: 10 }
    const heard: number[] = []
    const reached = await Promise.all(own.urls.map((url) => openNats({ urls: [url, ...own.urls], name: url })))
    try {
      const streams = await Promise.all(reached.map((nats) => openStream(nats, names, kept)))
      const [stream] = streams
      if (!stream) throw new Error('there is no stream')
      const follow = await stream.follow(1, ({ number }) => void heard.push(number))
      await stream.publish(message(1, 'before'))
      await expect.poll(() => heard, { timeout: 10_000 }).toEqual([1])
      const { jetstreamManager } = await import('@nats-io/jetstream')
      const manager = await jetstreamManager((reached[0] as (typeof reached)[0]).connection)
      const [consumer] = await manager.consumers.list(names.stream).next()
      const name = consumer?.cluster?.leader ?? ''
      const index = Number(name.slice('server-'.length))
      await own.kill(index)
      // Whoever writes is connected to another one.
      const other = streams[index === 1 ? 2 : 1]
      await expect
        .poll(
          async () => {
            if (heard.length === 1) await other?.publish(message(2, 'after')).catch(() => {})
            return heard
          },
          { timeout: 25_000, interval: 500 },
        )
        .toEqual([1, 2])
      await follow.stop()
    } finally {
      for (const nats of reached) await nats.close()
      await own.stop()
    }
  })
})
