import { civilOf } from '#kernel/civil'
import { HOUR } from '#kernel/instant'
import { parseMoney, showMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import { findPerson, listStaff } from '#people/people/people.service'
import { needPhotograph } from '#people/photographs/photograph.service'
import { type Actor, once, type Sight, type Turn } from '#runtime/queue/turn'
import { getLotRow, getLotRowById } from '#sale/lots/lots.service'
import { giveBack } from '../booking/give-back.service'
import { sendingTerms } from './bands.service'
import { tellNote, tellProblem, tellProblemEnd } from './letters.service'
import { clockWords, type ProblemState, problemState } from './problem.rules'
import * as store from './problem.store'
import type { EndProblemIn, NoteIn, ProblemEnd, ProblemView, ReportIn } from './sending.contract'
import { findConsignment } from './sending.store'
import { getWon } from './won.service'

/** The buyer reports that something is wrong with what was sent. The clock to the first answer runs from here. */
export function reportProblem(turn: Turn, actor: Actor, input: ReportIn): { problemId: string } {
  return once(turn, input.key, input, () => {
    const { title } = getWon(turn, actor, input.lot)
    const { id: lotId } = getLotRow(turn, input.lot)
    if (!findConsignment(turn.db, lotId)?.sentAt) throw new Refusal('too-early', 'It has not been sent yet. Write to the bench instead.')
    const open = store.listProblemsOf(turn.db, lotId).find(({ endedAt }) => endedAt === null)
    if (open) throw Refusal.at('words', 'A problem with this lot is already open. Add what you found to it.', 'conflict')
    if (input.photoSha) needPhotograph(turn, input.photoSha, 'photoSha')
    const problemId = turn.dice.id()
    const answerDueAt = turn.now + sendingTerms(turn).answerHours * HOUR
    store.insertProblem(turn.db, { id: problemId, lotId, personId: actor.personId, openedAt: turn.now, answerDueAt })
    store.insertNote(turn.db, {
      problemId,
      at: turn.now,
      side: 'buyer',
      byPersonId: actor.personId,
      words: input.words,
      photoSha: input.photoSha ?? null,
    })
    turn.record({ kind: 'problem.opened', subject: `lot:${input.lot}`, body: { number: input.lot } })
    const { zone } = getCampaign(turn)
    const answerBy = `${civilOf(answerDueAt, zone).replace('T', ' ')} (${zone})`
    tellProblem(turn, {
      lot: input.lot,
      title,
      buyerPersonId: actor.personId,
      words: input.words,
      answerBy,
      staff: whoAnswers(turn),
    })
    return { problemId }
  })
}

/** Whoever reported it says more: it is theirs alone, whatever role somebody else has in the house. */
export function sayMore(turn: Turn, actor: Actor, input: NoteIn): void {
  addNote(turn, actor, input, 'buyer')
}

/** The house answers: the clock stops until the buyer writes again. */
export function answerProblem(turn: Turn, actor: Actor, input: NoteIn): void {
  addNote(turn, actor, input, 'staff')
}

/** One says something; the other is told by email. */
function addNote(turn: Turn, actor: Actor, input: NoteIn, side: 'buyer' | 'staff'): void {
  once(turn, input.key, { ...input, by: actor.personId }, () => {
    const found = store.findProblem(turn.db, input.problemId)
    if (side === 'buyer' && found?.personId !== actor.personId) throw new Refusal('not-found', 'You have reported no such problem.')
    const row = stillOpen(found)
    if (input.photoSha) needPhotograph(turn, input.photoSha, 'photoSha')
    const wasAnswered = store.listNotes(turn.db, row.id).at(-1)?.side === 'staff'
    const { words, photoSha = null } = input
    store.insertNote(turn.db, { problemId: row.id, at: turn.now, side, byPersonId: actor.personId, words, photoSha })
    if (side === 'staff' && row.answeredAt === null) store.updateProblem(turn.db, row.id, { answeredAt: turn.now })
    // The buyer waits again, from here.
    if (side === 'buyer' && wasAnswered)
      store.updateProblem(turn.db, row.id, { answerDueAt: turn.now + sendingTerms(turn).answerHours * HOUR })
    const { number, title, terms } = getLotRowById(turn, row.lotId)
    turn.record({ kind: 'problem.noted', subject: `lot:${number}`, body: { number, side } })
    const about = { lot: number, title: terms?.sale.title ?? title, buyerPersonId: row.personId, words: input.words }
    tellNote(turn, { ...about, side, staff: whoAnswers(turn) })
    return {}
  })
}

const ENDED: Record<ProblemEnd, string> = {
  replaced: 'A part was replaced.',
  refunded: 'Your money was refunded.',
  explained: 'It was explained.',
}

/** How it ends: a part is replaced, money goes back, or it is explained. A refund lets that part of the price go, or undoes the sale. */
export function endProblem(turn: Turn, actor: Actor, input: EndProblemIn): { refundMinor: number | null } {
  return once(turn, input.key, input, () => {
    const row = stillOpen(store.findProblem(turn.db, input.problemId))
    const { number, title, terms } = getLotRowById(turn, row.lotId)
    const { currency } = getCampaign(turn)
    const refundMinor = input.as === 'refunded' ? refundOf(turn, actor, number, input) : null
    store.updateProblem(turn.db, row.id, {
      endedAt: turn.now,
      endedAs: input.as,
      endedWords: input.words,
      refundMinor,
      answeredAt: row.answeredAt ?? turn.now,
    })
    turn.record({ kind: 'problem.ended', subject: `lot:${number}`, body: { number, as: input.as } })
    const amount = refundMinor === null ? '' : ` ${showMoney(refundMinor, currency)}${input.hasGoneBack ? ', sent today.' : '.'}`
    const about = { lot: number, title: terms?.sale.title ?? title, buyerPersonId: row.personId, words: input.words }
    tellProblemEnd(turn, { ...about, ended: `${ENDED[input.as]}${amount}` })
    return { refundMinor }
  })
}

function refundOf(turn: Turn, actor: Actor, lot: number, input: EndProblemIn): number {
  if (actor.role !== 'treasurer' && actor.role !== 'maker')
    throw Refusal.at('as', 'Only the treasurer or the maker can refund money. Ask one of them to close it.', 'not-yours-to-do')
  const amountMinor = input.isWhole ? null : parseMoney(input.amount, getCampaign(turn).currency, 'amount')
  if (amountMinor === 0) throw Refusal.at('amount', 'Write how much goes back, above zero.')
  const { givenBackMinor } = giveBack(turn, actor, {
    key: input.key,
    lot,
    amountMinor,
    why: `a problem was reported: ${input.words}`.slice(0, 180),
    gone: input.hasGoneBack ? { reference: input.reference } : null,
  })
  return givenBackMinor
}

function stillOpen(row: store.ProblemRow | undefined): store.ProblemRow {
  if (!row) throw new Refusal('not-found', 'There is no such problem.')
  if (row.endedAt !== null) throw new Refusal('too-late', 'That is closed already.')
  return row
}

/** Whoever sends things answers for them. */
const whoAnswers = (sight: Sight): string[] => listStaff(sight).flatMap(({ role, email }) => (role === 'maker' ? [email] : []))

export const problemsOf = (sight: Sight, lotId: string): ProblemView[] =>
  store.listProblemsOf(sight.db, lotId).map((row) => viewOf(sight, row))

export function problemStateOf(sight: Sight, lotId: string): ProblemState | null {
  const [latest] = store.listProblemsOf(sight.db, lotId)
  return latest ? viewOf(sight, latest).state : null
}

function viewOf(sight: Sight, row: store.ProblemRow): ProblemView {
  const notes = store.listNotes(sight.db, row.id)
  const facts = { ...row, lastSide: notes.at(-1)?.side ?? 'buyer' }
  return {
    id: row.id,
    state: problemState(facts, sight.now),
    openedAt: row.openedAt,
    answerDueAt: row.answerDueAt,
    clock: clockWords(facts, sight.now),
    endedAs: row.endedAs,
    endedWords: row.endedWords,
    endedAt: row.endedAt,
    refundMinor: row.refundMinor,
    notes: notes.map(({ at, side, byPersonId, words, photoSha }) => ({
      at,
      side,
      by: byPersonId === null ? '' : (findPerson(sight, byPersonId)?.name ?? ''),
      words,
      photoSha,
    })),
  }
}
