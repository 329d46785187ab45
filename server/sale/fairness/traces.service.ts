import { createHash, createHmac } from 'node:crypto'
import type { Db } from '#db/open'
import { DAY, earliest, type Instant } from '#kernel/instant'
import { findCampaign } from '#people/campaign/campaign.service'
import { lastDayEnds } from '#people/campaign/stream-days.service'
import { campaignNumber, forEveryCampaign, inEveryCampaign } from '#people/campaign/which.service'
import type { Sweep } from '#runtime/queue/ticker'
import type { Keys, Sight, Turn } from '#runtime/queue/turn'
import { getLotRow } from '../lots/lots.service'
import * as store from './fairness.store'

/** Where a bid came from: kept as hashes only, under a key that is never in the database. */
export interface Origin {
  address: string
  /** The random value that this browser keeps in a cookie. */
  browser: string
}

/** The house's own machine, or a proxy in front that the settings do not name: no visitor's address. */
export const isOwnMachine = (address: string): boolean => address === '' || address === '::1' || /^(::ffff:)?127\./.test(address)

const secrets = new WeakMap<Keys, Buffer>()

/** Ed25519 signatures are deterministic (RFC 8032), so one over a fixed text is a secret that only the house's key can make. */
function secretOf(keys: Keys): Buffer {
  const found = secrets.get(keys)
  if (found) return found
  const made = createHash('sha256')
    .update(keys.sign(new TextEncoder().encode('tagstrip/trace/v1')))
    .digest()
  secrets.set(keys, made)
  return made
}

/** Notes the address and the browser of a bid that was taken: once for each bidder and lot. */
export function noteOrigin(turn: Turn, personId: string, lot: number, { address, browser }: Origin): void {
  const origin = [personId, lot, address, browser].join(' ')
  const known = knownOf(turn.db)
  if (known.has(origin)) return
  const lotId = getLotRow(turn, lot).id
  let isNew = false
  const note = (kind: 'address' | 'device', value: string) => {
    const hash = createHmac('sha256', secretOf(turn.keys)).update(`${kind}\0${value}`).digest('hex').slice(0, 32)
    if (store.insertTrace(turn.db, { personId, lotId, kind, hash, at: turn.now })) isNew = true
  }
  if (!isOwnMachine(address)) note('address', address)
  if (browser !== '') note('device', browser)
  // Only what was found there is remembered: what was written just now may still be undone.
  if (!isNew) known.add(origin)
}

const MOST_KNOWN = 20_000
const knownOrigins = new WeakMap<Db, Set<string>>()

/** Origins that stand in the database already, so that the many bids of one bidder are not hashed each time. In memory alone. */
function knownOf(db: Db): Set<string> {
  const known = knownOrigins.get(db)
  if (known && known.size < MOST_KNOWN) return known
  const fresh = new Set<string>()
  knownOrigins.set(db, fresh)
  return fresh
}

/** How long after the stream the hashes are kept: long enough to settle who paid (common practice). */
export const TRACES_KEPT = 30 * DAY

const termOf = (sight: Sight): Instant | null =>
  findCampaign(sight) && store.hasTraces(sight.db, campaignNumber(sight)) ? lastDayEnds(sight) + TRACES_KEPT : null

/** When the campaign's term is over, what was kept of addresses and browsers is deleted. */
export const traceSweep: Sweep = {
  name: 'traces of bids',
  nextAt: (sight) => earliest(inEveryCampaign(sight, (seen) => [termOf(seen)])),
  run: (turn) => forEveryCampaign(turn, deleteTraces),
}

function deleteTraces(turn: Turn): void {
  const term = termOf(turn)
  if (term === null || turn.now < term) return
  store.deleteTraces(turn.db, campaignNumber(turn))
  knownOrigins.delete(turn.db)
  turn.record({ kind: 'traces.deleted', subject: 'disclosures', body: {} })
}
