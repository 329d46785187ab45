import type { z } from 'zod'
import { getUnitRow } from '#bench/units/roster.service'
import type { Instant } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import { findCampaign } from '#people/campaign/campaign.service'
import { findPerson } from '#people/people/people.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { getDonor } from '#stock/donors/donor.service'
import { type BatchCard, batchCard } from '#stock/shelf/stock.service'
import { buyerAllClear, buyerLetter, type Draft, donorAllClear, donorLetter } from './letters.rules'
import { dropUntold, findNotice, insertNotice, type NoticeRow, noticeRows, noticeRowsOf, saveTold } from './notices.store'
import type { tellIn } from './quarantine.contract'

export interface Notice {
  id: string
  batchId: string
  code: string
  partId: string
  about: 'quarantined' | 'lifted'
  who: 'buyer' | 'donor'
  name: string
  /** Empty: there is no address, and they can only be told by hand. */
  mail: string
  unit: string | null
  at: Instant
  toldAt: Instant | null
  toldHow: 'letter' | 'by hand' | null
  draft: Draft
}

/** Whom to tell once a batch is quarantined: who bought a machine with a piece of it, and who gave it. */
export function listWhomToTell(
  turn: Turn,
  batch: BatchCard,
  buyers: readonly { personId: string; unitId: string }[],
  reason: string,
): void {
  const blank = {
    batchId: batch.id,
    about: 'quarantined',
    reason,
    at: turn.now,
    toldAt: null,
    toldHow: null,
    toldByPersonId: null,
  } as const
  for (const { personId, unitId } of buyers) insertNotice(turn.db, { ...blank, id: turn.dice.id(), personId, unitId, donorId: null })
  if (batch.donorId !== null) insertNotice(turn.db, { ...blank, id: turn.dice.id(), personId: null, unitId: null, donorId: batch.donorId })
}

/** Once the suspicion has proved unfounded: whoever was told of it is told that too, whoever was not need not be. */
export function listWhomToTellAgain(turn: Turn, batchId: string, reason: string): void {
  dropUntold(turn.db, batchId)
  const rows = noticeRowsOf(turn.db, batchId)
  const lastLifted = rows.filter(({ about }) => about === 'lifted').at(-1)?.at ?? Number.NEGATIVE_INFINITY
  for (const row of rows.filter(({ about, at }) => about === 'quarantined' && at > lastLifted)) {
    const fresh = { id: turn.dice.id(), about: 'lifted', reason, at: turn.now, toldAt: null, toldHow: null, toldByPersonId: null } as const
    insertNotice(turn.db, { ...row, ...fresh })
  }
}

/** Everybody who is to be told of a quarantine, or was: with the letter as the facts make it. */
export const listNotices = (sight: Sight): Notice[] => noticeRows(sight.db).map((row) => noticeOf(sight, row))

function noticeOf(sight: Sight, row: NoticeRow): Notice {
  const { code, partId, part } = batchCard(sight, row.batchId)
  const campaign = findCampaign(sight)?.name ?? ''
  const unit = row.unitId === null ? null : getUnitRow(sight, row.unitId).tag
  const { name, mail } = addressee(sight, row)
  const told = { campaign, name, reason: row.reason, part: part.words }
  const isOver = row.about === 'lifted'
  const draft = unit === null ? (isOver ? donorAllClear : donorLetter)(told) : (isOver ? buyerAllClear : buyerLetter)({ ...told, unit })
  const { id, batchId, about, at, toldAt, toldHow } = row
  return { id, batchId, code, partId, about, who: row.donorId === null ? 'buyer' : 'donor', name, mail, unit, at, toldAt, toldHow, draft }
}

function addressee(sight: Sight, { personId, donorId }: NoticeRow): { name: string; mail: string } {
  if (donorId !== null) {
    const { name, contact } = getDonor(sight, donorId)
    return { name, mail: contact }
  }
  const person = findPerson(sight, personId ?? '')
  return { name: person?.name ?? '', mail: person?.email ?? '' }
}

/** Somebody is told: by the letter as it stands in the form, or by hand. Once only. */
export function tell(turn: Turn, actor: Actor, { noticeId, how, subject, body }: z.output<typeof tellIn>): Notice {
  const row = findNotice(turn.db, noticeId)
  if (!row)
    throw new Refusal('not-found', 'This notice is no longer needed: the quarantine was lifted before anybody was told. Reload the page.')
  const notice = noticeOf(turn, row)
  if (row.toldAt !== null) return notice
  if (how === 'letter') {
    if (notice.mail === '') throw Refusal.at('how', `There is no address for ${notice.name}. Tell them in person.`)
    if (subject === '') throw Refusal.at('subject', 'Write a subject.')
    if (body === '') throw Refusal.at('body', 'Write the letter.')
    turn.post({ to: notice.mail, subject, body })
  }
  saveTold(turn.db, row.id, { toldAt: turn.now, toldHow: how, toldByPersonId: actor.personId })
  turn.record({ kind: 'quarantine.told', subject: `batch:${notice.code}`, body: { noticeId, batchId: row.batchId, how } })
  const after = findNotice(turn.db, noticeId)
  return after ? noticeOf(turn, after) : notice
}
