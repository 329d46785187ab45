import { z } from 'zod'
import type { HouseNames } from '../nats/house-names'
import type { Nats } from '../nats/nats'

/** Which machine writes, as it says of itself. */
const holderShape = z.object({ id: z.string(), name: z.string(), address: z.string(), since: z.string() })
/** A machine, and since when it has the lease. */
export type Holder = z.infer<typeof holderShape>
export type Self = Omit<Holder, 'since'>

/**
 * The writer's lease lies on the servers and passes when it is not renewed. It decides when a machine that stands by may take over;
 * that only one of them goes on is decided by the stream.
 */
const followerShape = z.object({ name: z.string(), number: z.number().int().nonnegative() })
/** A machine that stands by, and up to which message its copy is. */
export type Follower = z.infer<typeof followerShape>

export interface Lease {
  self: Self
  /** Takes it, or holds on to it. Answers who has it: oneself, or another. Throws when no server answers. */
  take(): Promise<Holder>
  /** Who has it; null when nobody does. */
  holder(): Promise<Holder | null>
  /** Lets it go at once, so that another need not wait. */
  release(): Promise<void>
  /** Says that this machine stands by. It counts for as long as the lease would, and is to be said again by then. */
  standsBy(number: number): Promise<void>
  /** Who has said so lately. */
  followers(): Promise<Follower[]>
}

export const LEASE_MS = 3_000
const KEY = 'writer'
const FOLLOWER = 'follower'
const WRONG_SEQUENCE = 10071

export async function openLease(nats: Nats, names: HouseNames, replicas: number, self: Self): Promise<Lease> {
  const { Kvm } = await import('@nats-io/kv')
  const { jetstreamManager } = await import('@nats-io/jetstream')
  const manager = await jetstreamManager(nats.connection)
  const bucket = await new Kvm(nats.connection).create(names.bucket, { ttl: LEASE_MS, replicas, history: 1 })
  let revision: number | null = null
  let since = ''

  const holder = async (): Promise<Holder | null> => {
    const entry = await bucket.get(KEY)
    if (entry?.operation !== 'PUT') return null
    const read = holderShape.parse(entry.json())
    if (read.id === self.id) {
      revision = entry.revision
      since = read.since
    }
    return read
  }
  const isLost = (reason: unknown) =>
    reason instanceof Error &&
    (('code' in reason && reason.code === WRONG_SEQUENCE) || /wrong last sequence|key exists/i.test(reason.message))

  return {
    self,
    holder,
    async take() {
      for (;;) {
        try {
          const had = revision === null ? new Date().toISOString() : since
          const said = { ...self, since: had } satisfies Holder
          const words = JSON.stringify(said)
          revision = revision === null ? await bucket.create(KEY, words) : await bucket.update(KEY, words, revision, 1_000)
          since = had
          return said
        } catch (reason) {
          if (!isLost(reason)) throw reason
          revision = null
          const other = await holder()
          // It passed in between, or what was heard of it came late: ask once more.
          if (other !== null && other.id !== self.id) return other
        }
      }
    },
    async release() {
      if (revision === null) return
      await bucket.delete(KEY, { previousSeq: revision })
      revision = null
    },
    async standsBy(number) {
      await bucket.put(`${FOLLOWER}.${self.id}`, JSON.stringify({ name: self.name, number } satisfies Follower))
    },
    async followers() {
      const found: Follower[] = []
      // Listed without a consumer, of which each would stay on the servers for minutes.
      const filter = `$KV.${names.bucket}.${FOLLOWER}.>`
      const { state } = await manager.streams.info(`KV_${names.bucket}`, { subjects_filter: filter })
      for (const subject of Object.keys(state.subjects ?? {})) {
        const entry = await bucket.get(subject.slice(`$KV.${names.bucket}.`.length))
        const read = entry?.operation === 'PUT' ? followerShape.safeParse(entry.json()) : null
        if (read?.success) found.push(read.data)
      }
      return found.sort((a, b) => b.number - a.number)
    },
  }
}
