import { type Instant, toIso } from '#kernel/instant'
import { invariant } from '#kernel/invariant'
import { Refusal } from '#kernel/refusal'
import { isStaff } from '#kernel/role'
import { mailboxOf } from '#people/people/mailbox.rules'
import { findPerson } from '#people/people/people.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { findAlias, personBehind, voidAlias } from '../bidders/aliases.service'
import { applyCommand } from '../bids/lot-command.service'
import { loadOpenedLot } from '../bids/lot-state.service'
import { tellOfLeadAgain, tellOfVoid } from '../letters/letters.service'
import { getLotRow, type LotRow } from '../lots/lots.service'
import type { VoidRequest } from './bidding.contract'
import * as store from './voids.store'

/** The first of the two who are needed: asks that a bidder's bids on a lot be voided. Nothing is changed yet. */
export function askVoid(turn: Turn, actor: Actor, input: { lot: number; alias: string; reason: string }): void {
  const { row } = loadOpenedLot(turn, input.lot)
  getBidder(turn, row, input.alias)
  if (store.findVoidRequest(turn.db, row.id, input.alias))
    throw new Refusal('conflict', 'That has already been asked for. Another member of staff must agree.')
  const young = whyTooYoung(turn, actor, row)
  if (young) throw new Refusal('not-yours-to-do', young)
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
export function agreeVoid(turn: Turn, actor: Actor, input: { lot: number; alias: string; askedAt: Instant }): LotRow {
  const lot = loadOpenedLot(turn, input.lot)
  const asked = store.findVoidRequest(turn.db, lot.row.id, input.alias)
  if (!asked) throw new Refusal('not-found', 'Nobody has asked for that. Ask first; another member of staff then agrees.')
  if (asked.at !== input.askedAt)
    throw new Refusal(
      'conflict',
      `This was asked for again since you read it. The reason is now: ${asked.reason} Reload the page, and agree if that is right.`,
    )
  const why = whyNotSecond(turn, actor, lot.row, asked)
  if (why) throw new Refusal('not-yours-to-do', why)
  const personId = getBidder(turn, lot.row, input.alias)
  voidAlias(turn, lot.row.id, input.alias)
  store.deleteVoidRequest(turn.db, lot.row.id, input.alias)
  const { row } = applyCommand(turn, lot, {
    command: { kind: 'void', bidder: input.alias, reason: asked.reason },
    by: 'two of the staff',
    two: { asked: { by: ofStaff(asked.askedRole), at: toIso(asked.at) }, agreed: { by: ofStaff(actor.role), at: toIso(turn.now) } },
  })
  tellOfVoid(turn, row, personId, asked.reason)
  const { leaderPersonId } = row
  if (leaderPersonId !== null && leaderPersonId !== lot.row.leaderPersonId) tellOfLeadAgain(turn, row, leaderPersonId)
  return row
}

export function dropVoid(turn: Turn, input: { lot: number; alias: string }): void {
  const { row } = loadOpenedLot(turn, input.lot)
  store.deleteVoidRequest(turn.db, row.id, input.alias)
  turn.record({ kind: 'lot.void-dropped', subject: `lot:${row.number}`, body: { number: row.number, alias: input.alias } })
}

/** Who has asked for which bidder to be voided, and why whoever reads it may not be the second; for the staff. */
export function listVoidRequests(sight: Sight, reader: Actor, number: number): VoidRequest[] {
  const row = getLotRow(sight, number)
  return store.listVoidRequests(sight.db, row.id).map((asked) => ({
    alias: asked.alias,
    reason: asked.reason,
    at: asked.at,
    askedBy: findPerson(sight, asked.askedBy)?.name ?? 'the staff',
    askedRole: asked.askedRole,
    whyNot: whyNotSecond(sight, reader, row, asked),
  }))
}

/** The lots on which a void waits for the second of the two. */
export const lotsWithVoidsWaiting = (sight: Sight): number[] => store.listLotsWithVoidRequests(sight.db)

/** Two accounts are two people as far as the house can tell: one mailbox is one, and a role given for the purpose is none. */
function whyNotSecond(sight: Sight, second: Actor, row: LotRow, asked: { askedBy: string }): string | null {
  if (asked.askedBy === second.personId) return 'You asked for it yourself. Another member of staff must agree.'
  const first = findPerson(sight, asked.askedBy)
  if (!first || !isStaff(first.role)) return 'The person who asked is no longer staff. Drop the request and ask for it again.'
  if (mailboxOf(first.email) === mailboxOf(second.email))
    return 'You and the person who asked share a mailbox, so you count as one. Another member of staff must agree.'
  return whyTooYoung(sight, second, row)
}

function whyTooYoung(sight: Sight, { personId }: Actor, { number, openedAt }: LotRow): string | null {
  const givenAt = findPerson(sight, personId)?.roleGivenAt
  if (givenAt !== undefined && openedAt !== null && givenAt <= openedAt) return null
  return `Both who void a bid on lot ${number} must have had their role before this lot opened; yours was given later.`
}

const ofStaff = (role: Actor['role']) => {
  invariant(role !== 'bidder', 'bids are voided by the staff')
  return role
}

/** Whose bids can be voided: somebody who has one on the lot that counts. */
function getBidder(sight: Sight, row: LotRow, alias: string): string {
  const personId = personBehind(sight, row.id, alias)
  if (!personId) throw Refusal.at('alias', `Nobody is bidding here as ${alias}.`, 'not-found')
  if (findAlias(sight, row.id, personId)?.voidedAt != null)
    throw Refusal.at('alias', `The bids of ${alias} have already been voided.`, 'conflict')
  return personId
}
