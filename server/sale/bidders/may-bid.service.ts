import { hasTested } from '#bench/units/roster.service'
import type { Actor, Sight } from '#runtime/queue/turn'
import { type LotRow, postageTable } from '../lots/lots.service'
import { postageTo } from '../lots/postage.rules'
import { findAlias } from './aliases.service'
import { isConnected } from './disclosures.service'

export const TAKE_A_PADDLE = 'Take a paddle first: confirm your address, say where we would send a lot, and accept the rules.'

/** Whoever bids: in person, or by a maximum that wakes while they sleep. */
export type WhoBids = Pick<Actor, 'personId' | 'role'>

/** Why a person may not bid on a lot, in words; null when they may. Amount and clock are looked at elsewhere. */
export function whyBarred(
  sight: Sight,
  { personId, role }: WhoBids,
  row: LotRow,
  country: string | null,
  known = findAlias(sight, row.id, personId),
): string | null {
  if (role !== 'bidder') return 'The staff of this sale cannot bid in it.'
  if (row.pricedByPersonId === personId) return 'You priced this lot, so you cannot bid on it.'
  if (hasTested(sight, row.unitId, personId)) return 'You tested this machine, so you cannot bid on it.'
  if (isConnected(sight, personId, row.id))
    return 'You told us you are connected with this lot, so you cannot bid on it. Write to us if that is wrong.'
  if (country === null) return TAKE_A_PADDLE
  if (!postageTo(postageTable(sight, row), country))
    return 'This lot cannot be sent to the country on your paddle. Change the country, or ask us.'
  if (known?.voidedAt) return 'Your bids on this lot were voided. Write to us if that is wrong.'
  return null
}
