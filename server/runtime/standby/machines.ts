import { houseNames } from '../nats/house-names'
import { type Nats, openNats } from '../nats/nats'
import { type Holder, LEASE_MS, type Lease, openLease, type Self } from './lease'
import { type Kept, openStream, type Stream } from './stream'

/** What the machines of one house have between them: the stream, and the lease of the one that writes. */
export interface Machines {
  nats: Nats
  stream: Stream
  lease: Lease
  self: Self
  /** Takes the lease. One that is held by a machine that is gone passes meanwhile; answers who has it in the end. */
  waitForLease(): Promise<Holder>
  /** Whether a house has taken these over, and closes them when it ends. */
  isGivenAway(): boolean
  giveAway(): void
  close(): Promise<void>
}

const UNANSWERED_MS = 20_000

export interface MachineWishes {
  urls: readonly string[]
  credsFile?: string
  jwks: { keys: readonly Record<string, string>[] }
  self: Self
  kept: Kept
}

export async function reachMachines({ urls, credsFile, jwks, self, kept }: MachineWishes): Promise<Machines> {
  const names = houseNames(jwks)
  const nats = await openNats({ urls, name: self.name, credsFile })
  try {
    const stream = await openStream(nats, names, kept)
    const lease = await openLease(nats, names, stream.replicas, self)
    let isGivenAway = false
    return {
      nats,
      stream,
      lease,
      self,
      async waitForLease() {
        const until = performance.now() + LEASE_MS + 1_500
        const unanswered = until + UNANSWERED_MS
        for (;;) {
          const holder = await lease.take().catch((reason) => {
            // While the servers agree on who of them answers, nobody does.
            if (performance.now() > unanswered) throw reason
            return null
          })
          if (holder !== null && (holder.id === self.id || performance.now() > until)) return holder
          await new Promise((resolve) => setTimeout(resolve, 200))
        }
      },
      isGivenAway: () => isGivenAway,
      giveAway: () => {
        isGivenAway = true
      },
      close: () => nats.close(),
    }
  } catch (reason) {
    await nats.close()
    throw reason
  }
}
