import { afterAll, beforeAll, expect, test } from 'vitest'
import { houseNames } from '#runtime/nats/house-names'
import { type Nats, openNats } from '#runtime/nats/nats'
import { type Lease, openLease } from '#runtime/standby/lease'
import { type NatsCluster, openNatsServers } from '#test/make/nats'
import { NATS_SERVER } from '#test/make/neighbour'

test.skipIf(NATS_SERVER !== null)('left out: the lease, since there is no nats-server here', () => {})

if (NATS_SERVER !== null) {
  let servers: NatsCluster
  let nats: Nats
  const leaseOf = (id: string): Promise<Lease> =>
    openLease(nats, houseNames({ keys: [{ kid: 'a-key' }] }), 1, { id, name: `machine ${id}`, address: `http://${id}.example` })
  const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))

  beforeAll(async () => {
    servers = await openNatsServers()
    nats = await openNats({ urls: servers.urls, name: 'leases' })
  }, 30_000)
  afterAll(async () => {
    await nats.close()
    await servers.stop()
  })

  test('it says since when a machine writes, not since when it stood by', async () => {
    const [one, other] = [await leaseOf('one'), await leaseOf('other')]
    await one.take()
    await pause(30)
    const released = new Date().toISOString()
    await one.release()
    const first = await other.take()
    expect(first.since >= released).toBe(true)
    await pause(30)
    // Holding on to it does not begin it anew.
    expect(await other.take()).toEqual(first)
    expect(await one.take()).toEqual(first)
    await other.release()
  })

  test('who stands by is known, with how far it is, until it falls silent', async () => {
    const [writer, follower] = [await leaseOf('writer'), await leaseOf('follower')]
    await writer.take()
    expect(await writer.followers()).toEqual([])
    await follower.standsBy(7)
    await follower.standsBy(9)
    expect(await writer.followers()).toEqual([{ name: 'machine follower', number: 9 }])
    // What it says of itself takes nothing of the lease.
    expect(await follower.holder()).toMatchObject({ id: 'writer' })
    await expect.poll(() => writer.followers(), { timeout: 10_000, interval: 200 }).toEqual([])
  }, 15_000)
}
