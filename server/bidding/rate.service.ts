import type { Db } from '../../db/open'
import { type Allowance, isOwnMachine, openAllowance } from '../kernel/allowance'
import { Refusal } from '../kernel/refusal'
import type { Sight } from '../runtime/turn'

/**
 * Common practice. Nobody who bids by hand comes near the first; the second leaves room for a household, a club or an
 * office behind one address; the third keeps one lot from taking the house away from all others.
 */
const RATES = {
  account: { burst: 300, aSecond: 5 },
  address: { burst: 600, aSecond: 20 },
  lot: { burst: 20_000, aSecond: 1000 },
} as const

const houses = new WeakMap<Db, Record<keyof typeof RATES, Allowance>>()

function allowancesOf(db: Db) {
  const found = houses.get(db)
  if (found) return found
  const made = { account: openAllowance(RATES.account), address: openAllowance(RATES.address), lot: openAllowance(RATES.lot) }
  houses.set(db, made)
  return made
}

/** Turns a bid away before any work is done for it, when there were too many from one account, one address or for one lot. */
export function shedBids(sight: Sight, { personId, address, lot }: { personId: string; address: string; lot: number }): void {
  const { account, address: ofAddress, lot: ofLot } = allowancesOf(sight.db)
  if (!account.take(personId, sight.now))
    throw new Refusal('too-many', 'That is too many bids at once. Wait a few seconds and send it again.')
  if (!isOwnMachine(address) && !ofAddress.take(address, sight.now))
    throw new Refusal('too-many', 'Too many bids come from your network at once. Wait a few seconds and send it again.')
  if (!ofLot.take(String(lot), sight.now))
    throw new Refusal('too-many', 'More bids come in for this lot than can be taken. Wait a second and send it again.')
}
