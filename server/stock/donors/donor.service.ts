import type { z } from 'zod'
import { groupBy } from '#kernel/group'
import { Refusal } from '#kernel/refusal'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { consentsNow } from './consent.rules'
import type { Creditable } from './credit.rules'
import { type Anonymity, CONSENT_USES, type Consents, type consentIn, type donorChangeIn, type donorIn } from './donor.contract'
import {
  type ConsentRow,
  consentRows,
  type DonorRow,
  donorRows,
  findDonorByContact,
  findDonorRow,
  insertConsent,
  insertDonor,
  listDonorRows,
  mergedRows,
  updateDonor,
} from './donor.store'
import { mailHint } from './mail-hint.rules'
import { mergeRecords } from './merge.rules'

export type { DonorRow } from './donor.store'

export interface DonorCard extends DonorRow {
  consents: Consents
  /** When consent was last spoken of, if ever. */
  consentAt: number | null
}

/** A donor as one of many: whoever needs the whole address finds it on the donor's own sheet. */
type ListedDonor = Omit<DonorCard, 'contact'> & { mailHint: string }

/** Keeps a new donor with what they consented to. Text that came from outside (`actor` null) waits for approval. */
export function addDonor(
  turn: Turn,
  actor: Actor | null,
  input: z.output<typeof donorIn>,
  { isStandIn = false, id = turn.dice.id() }: { isStandIn?: boolean; id?: string } = {},
): DonorRow {
  const row: DonorRow = {
    id,
    name: input.name,
    creditName: input.creditName === '' ? input.name : input.creditName,
    sayIt: input.sayIt,
    contact: input.contact,
    anonymity: input.anonymity,
    approved: actor !== null,
    at: turn.now,
    mergedIntoId: null,
    mergedAt: null,
    isStandIn,
    askedCreditName: null,
    askedSayIt: null,
  }
  insertDonor(turn.db, row)
  for (const use of CONSENT_USES) {
    if (input.consents[use]) keepConsent(turn, { donorId: row.id, use, given: true }, actor)
  }
  turn.record({ kind: 'donor.added', subject: `donor:${row.id}`, body: { donorId: row.id, approved: row.approved } })
  return row
}

export function changeDonor(turn: Turn, _actor: Actor, { donorId, name, ...change }: z.output<typeof donorChangeIn>): DonorCard {
  const before = getDonor(turn, donorId)
  // Somebody who now has a name is no stand-in any more, and what they asked to be called has been read.
  updateDonor(turn.db, donorId, {
    ...change,
    name: name ?? before.name,
    approved: true,
    isStandIn: false,
    askedCreditName: null,
    askedSayIt: null,
  })
  turn.record({ kind: 'donor.changed', subject: `donor:${donorId}`, body: { donorId } })
  return getDonor(turn, donorId)
}

export function approveDonor(turn: Turn, donorId: string): void {
  if (getDonor(turn, donorId).approved) return
  updateDonor(turn.db, donorId, { approved: true })
  turn.record({ kind: 'donor.approved', subject: `donor:${donorId}`, body: { donorId } })
}

/** A consent given or withdrawn; saying the same again changes nothing. Withdrawing takes effect everywhere at once. */
export function setConsent(turn: Turn, actor: Actor | null, input: z.output<typeof consentIn>): DonorCard {
  if (getDonor(turn, input.donorId).consents[input.use] !== input.given) {
    keepConsent(turn, input, actor)
    const kind = input.given ? 'consent.given' : 'consent.withdrawn'
    turn.record({ kind, subject: `donor:${input.donorId}`, body: { donorId: input.donorId, use: input.use } })
  }
  return getDonor(turn, input.donorId)
}

function keepConsent(turn: Turn, { donorId, use, given }: z.output<typeof consentIn>, actor: Actor | null): void {
  insertConsent(turn.db, { id: turn.dice.id(), donorId, use, given, at: turn.now, byPersonId: actor?.personId ?? null })
}

export function getDonor(sight: Sight, donorId: string): DonorCard {
  const row = findDonorRow(sight.db, donorId)
  if (!row) throw new Refusal('not-found', 'There is no such donor.')
  return cardOf(row, consentRows(sight.db, [donorId]))
}

export function listDonors(sight: Sight): DonorCard[] {
  const consents = groupBy(consentRows(sight.db), (row) => row.donorId)
  return listDonorRows(sight.db).map((row) => cardOf(row, consents.get(row.id) ?? []))
}

export const listed = ({ contact, ...card }: DonorCard): ListedDonor => ({ ...card, mailHint: mailHint(contact) })

/** The donor with this email address; where it stands in a record that was merged, the one that was kept. */
export function findDonorWithMail(sight: Sight, mail: string): DonorRow | undefined {
  const found = findDonorByContact(sight.db, mail)
  return found && keptRecord(sight, found)
}

/** The donor of a record, whichever was kept when records were merged. */
export const keptDonor = (sight: Sight, donorId: string): DonorRow => keptRecord(sight, getDonor(sight, donorId))

function keptRecord(sight: Sight, row: DonorRow): DonorRow {
  const into = row.mergedIntoId === null ? undefined : findDonorRow(sight.db, row.mergedIntoId)
  return into ? keptRecord(sight, into) : row
}

/** Gives one record up for another, by the rule: the gifts and parcels are moved by who calls. */
export function giveUpRecord(turn: Turn, actor: Actor, kept: DonorCard, gone: DonorCard): void {
  const { consents, changes: _said, ...change } = mergeRecords(kept, gone)
  for (const use of CONSENT_USES) if (consents[use] !== kept.consents[use]) setConsent(turn, actor, { donorId: kept.id, use, given: false })
  updateDonor(turn.db, kept.id, { ...change, approved: kept.approved || gone.approved })
  updateDonor(turn.db, gone.id, { mergedIntoId: kept.id, mergedAt: turn.now })
  turn.record({ kind: 'donor.merged', subject: `donor:${kept.id}`, body: { donorId: kept.id, goneId: gone.id } })
}

export const mergedInto = (sight: Sight, donorId: string): DonorRow[] => mergedRows(sight.db, donorId)

/** What a donor asks to be called: shown to the staff until they have read it. A more hidden level takes effect at once. */
export function askNaming(turn: Turn, donorId: string, asked: { creditName: string; sayIt: string; anonymity: Anonymity }): void {
  const donor = getDonor(turn, donorId)
  const isNew = asked.creditName !== donor.creditName || asked.sayIt !== donor.sayIt
  updateDonor(turn.db, donorId, {
    anonymity: asked.anonymity,
    askedCreditName: isNew ? asked.creditName : null,
    askedSayIt: isNew ? asked.sayIt : null,
  })
  turn.record({ kind: 'donor.asked', subject: `donor:${donorId}`, body: { donorId } })
}

/** The staff have read what a donor asks to be called, and take it or leave it. */
export function answerNaming(turn: Turn, donorId: string, isTaken: boolean): DonorCard {
  const { askedCreditName, askedSayIt, creditName, sayIt } = getDonor(turn, donorId)
  const taken = isTaken ? { creditName: askedCreditName ?? creditName, sayIt: askedSayIt ?? sayIt, approved: true } : {}
  updateDonor(turn.db, donorId, { ...taken, askedCreditName: null, askedSayIt: null })
  turn.record({ kind: 'donor.changed', subject: `donor:${donorId}`, body: { donorId } })
  return getDonor(turn, donorId)
}

/** What the credits need to know of these donors, consents as they stand now. */
export function creditables(sight: Sight, donorIds: readonly string[]): Creditable[] {
  if (donorIds.length === 0) return []
  const consents = groupBy(consentRows(sight.db, donorIds), (row) => row.donorId)
  return donorRows(sight.db, donorIds).map((row) => ({
    donorId: row.id,
    creditName: row.creditName,
    sayIt: row.sayIt,
    anonymity: row.anonymity,
    approved: row.approved,
    consents: consentsNow(consents.get(row.id) ?? []),
  }))
}

const cardOf = (row: DonorRow, lines: readonly ConsentRow[]): DonorCard => ({
  ...row,
  consents: consentsNow(lines),
  consentAt: lines.at(-1)?.at ?? null,
})
