import { Refusal } from '#kernel/refusal'
import type { FloodLimit, Floods } from '#runtime/call/flood'
import type { Sight } from '#runtime/queue/turn'
import { isOwnMachine } from './traces.service'

const WORDS = 'Wait a few seconds and send it again; it will not count twice.'

/**
 * Common practice. Nobody who bids by hand comes near the first; the second leaves room for a household, a club or an
 * office behind one address; the third keeps one lot from taking the house away from all others.
 */
const LIMITS = {
  account: limit('bids of one account', 600, 2, `That is too many bids at once. ${WORDS}`),
  address: limit('bids from one address', 2400, 2, `Too many bids come from your network at once. ${WORDS}`),
  lot: limit('bids for one lot', 60_000, 1, `More bids are coming in for this lot than can be taken. ${WORDS}`),
}

function limit(name: string, each: number, perMinutes: number, words: string): FloodLimit {
  return { name, each, all: Number.MAX_SAFE_INTEGER, perMinutes, words }
}

/** Turns a bid away before any work is done for it, when there were too many from one account, one address or for one lot. */
export function shedBids(
  floods: Floods,
  { now }: Sight,
  { personId, address, lot }: { personId: string; address: string; lot: number },
): void {
  const admit = (one: FloodLimit, key: string) => {
    if (floods.admit(one, key, now) !== null) throw new Refusal('too-many', one.words)
  }
  admit(LIMITS.account, personId)
  admit(LIMITS.address, isOwnMachine(address) ? '' : address)
  admit(LIMITS.lot, `lot ${lot}`)
}
