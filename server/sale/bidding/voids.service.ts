import { Refusal } from '#kernel/refusal'
import { findPerson } from '#people/people/people.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { personBehind, voidAlias } from '../bidders/aliases.service'
import { applyCommand } from '../bids/lot-command.service'
import { loadOpenedLot } from '../bids/lot-state.service'
import { tellOfVoid } from '../letters/letters.service'
import type { LotRow } from '../lots/lots.service'
import * as store from './voids.store'

/** The first of the two who are needed: asks that a bidder's bids on a lot be voided. Nothing is changed yet. */
export function askVoid(turn: Turn, actor: Actor, input: { lot: number; alias: string; reason: string }): void {
  const { row } = loadOpenedLot(turn, input.lot)
  getBidder(turn, row, input.alias)
  if (store.findVoidRequest(turn.db, row.id, input.alias))
    throw new Refusal('conflict', 'That was asked for already. Another of the staff must agree.')
  store.insertVoidRequest(turn.db, {
    lotId: row.id,
    alias: input.alias,
    reason: input.reason,
    askedBy: actor.personId,
    askedRole: actor.role,
    at: turn.now,
  })
  turn.record({
    kind: 'lot.void-asked',
    subject: `lot:${row.number}`,
    body: { number: row.number, alias: input.alias, reason: input.reason },
  })
}

/** The second agrees: the lot is replayed without that bidder. The price may fall, the only time it does. */
export function agreeVoid(turn: Turn, actor: Actor, input: { lot: number; alias: string }): LotRow {
  const lot = loadOpenedLot(turn, input.lot)
  const asked = store.findVoidRequest(turn.db, lot.row.id, input.alias)
  if (!asked) throw new Refusal('not-found', 'Nobody has asked for that. Ask first; another of the staff then agrees.')
  if (asked.askedBy === actor.personId) throw new Refusal('not-yours-to-do', 'You asked for it yourself. Another of the staff must agree.')
  const personId = getBidder(turn, lot.row, input.alias)
  voidAlias(turn, lot.row.id, input.alias)
  store.deleteVoidRequest(turn.db, lot.row.id, input.alias)
  const { row } = applyCommand(turn, lot, { command: { kind: 'void', bidder: input.alias, reason: asked.reason }, by: 'two of the staff' })
  tellOfVoid(turn, row, personId, asked.reason)
  return row
}

export function dropVoid(turn: Turn, input: { lot: number; alias: string }): void {
  const { row } = loadOpenedLot(turn, input.lot)
  store.deleteVoidRequest(turn.db, row.id, input.alias)
  turn.record({ kind: 'lot.void-dropped', subject: `lot:${row.number}`, body: { number: row.number, alias: input.alias } })
}

/** Who has asked for which bidder to be voided, for the staff. */
export const listVoidRequests = (sight: Sight, lotId: string) =>
  store
    .listVoidRequests(sight.db, lotId)
    .map(({ alias, reason, askedBy, at }) => ({ alias, reason, at, askedBy: findPerson(sight, askedBy)?.name ?? 'the staff' }))

function getBidder(sight: Sight, row: LotRow, alias: string): string {
  const personId = personBehind(sight, row.id, alias)
  if (!personId) throw Refusal.at('alias', `Nobody bids here as ${alias}.`, 'not-found')
  return personId
}
