import { Refusal } from '#kernel/refusal'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { getShownRow } from '../lots/shown-lot.service'
import { findAlias } from './aliases.service'
import * as store from './bidders.store'

/** A bid cannot be taken back by whoever made it. They can ask; two of the staff decide whether it is voided. */
export function askRetraction(turn: Turn, { personId }: Actor, { lot, reason }: { lot: number; reason: string }): void {
  const row = getShownRow(turn, lot)
  if (row.state !== 'open' && row.state !== 'held') throw new Refusal('too-late', 'This lot has ended; its bids stay as they are.')
  const mine = findAlias(turn, row.id, personId)
  if (!mine) throw new Refusal('conflict', 'You have not bid on this lot.')
  if (mine.voidedAt !== null) throw new Refusal('conflict', 'Your bids here have already been voided.')
  store.insertRetraction(turn.db, { lotId: row.id, personId, reason, at: turn.now })
  turn.record({ kind: 'bid.retraction-asked', subject: 'disclosures', body: { lot } })
}

export const hasAskedRetraction = (sight: Sight, lotId: string, personId: string): boolean =>
  store.hasAskedRetraction(sight.db, lotId, personId)

export const listRetractions = (sight: Sight) => store.listRetractions(sight.db)
