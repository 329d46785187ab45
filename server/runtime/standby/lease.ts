import { z } from 'zod'
import type { HouseNames } from '../nats/house-names'
import type { Nats } from '../nats/nats'

/** Which machine writes, as it says of itself. */
const holderShape = z.object({ id: z.string(), name: z.string(), address: z.string(), since: z.string() })
export type Holder = z.infer<typeof holderShape>

/**
 * The writer's lease lies on the servers and passes when it is not renewed. It decides when a machine that stands by may take over;
 * that only one of them goes on is decided by the stream.
 */
export interface Lease {
  self: Holder
  /** Takes it, or holds on to it. Answers who has it: oneself, or another. Throws when no server answers. */
  take(): Promise<Holder>
  /** Who has it; null when nobody does. */
  holder(): Promise<Holder | null>
  /** Lets it go at once, so that another need not wait. */
  release(): Promise<void>
}

export const LEASE_MS = 3_000
const KEY = 'writer'
const WRONG_SEQUENCE = 10071

export async function openLease(nats: Nats, names: HouseNames, replicas: number, self: Holder): Promise<Lease> {
  const { Kvm } = await import('@nats-io/kv')
  const bucket = await new Kvm(nats.connection).create(names.bucket, { ttl: LEASE_MS, replicas, history: 1 })
  let revision: number | null = null
  const said = () => JSON.stringify(self)

  const holder = async (): Promise<Holder | null> => {
    const entry = await bucket.get(KEY)
    if (entry?.operation !== 'PUT') return null
    const read = holderShape.parse(entry.json())
    if (read.id === self.id) revision = entry.revision
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
          revision = revision === null ? await bucket.create(KEY, said()) : await bucket.update(KEY, said(), revision, 1_000)
          return self
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
  }
}
