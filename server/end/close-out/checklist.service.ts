import { DateTime } from 'luxon'
import type { Instant } from '#kernel/instant'
import { showMoney } from '#kernel/money'
import { readBooks } from '#money/books/books.service'
import { problemStateOf } from '#money/sending/problems.service'
import { isSent } from '#money/sending/sent.service'
import { listToSend } from '#money/sending/won.service'
import { getCampaign } from '#people/campaign/campaign.service'
import type { Actor, Sight } from '#runtime/queue/turn'
import { getLotRow, listLots } from '#sale/lots/lots.service'
import { deletedAt } from '../deletion/deletion.service'
import { contactsDueAt } from '../deletion/term.service'
import { readLastLetters } from '../last-letters/last-letters.service'
import { findLatestWhole } from '../packs/packs.service'
import { readAccount } from '../statement/account.service'
import type { CheckItem } from './checklist.contract'
import { closeOutChecklist } from './checklist.rules'
import { listLeft } from './what-is-left.service'

/** How far the campaign is closed out. Each point follows from what there is. */
export function readChecklist(sight: Sight, actor: Actor): CheckItem[] {
  const { currency, zone } = getCampaign(sight)
  const money = (minor: number) => showMoney(minor, currency)
  const day = (at: Instant) => DateTime.fromMillis(at, { zone, locale: 'en-GB' }).toFormat('d LLLL yyyy')
  const numbersIn = (...states: string[]) => listLots(sight).flatMap(({ number, state }) => (states.includes(state) ? [number] : []))
  const { statement, unplaced, journal } = readBooks(sight, actor)
  const account = readAccount(sight)
  const owing = statement.lots.filter(({ owedMinor }) => owedMinor > 0)
  const toSend = listToSend(sight).filter(({ state }) => state !== 'fell through')
  const left = listLeft(sight)
  const idOf = (number: number) => getLotRow(sight, number).id
  const letters = readLastLetters(sight)
  const pack = findLatestWhole(sight)
  const deleted = deletedAt(sight)
  const dueAt = contactsDueAt(sight) ?? sight.now
  return closeOutChecklist({
    openLots: numbersIn('open', 'held'),
    unopenedLots: numbersIn('draft', 'ready'),
    endedLots: numbersIn('sold', 'unsold', 'withdrawn').length,
    leftLots: left.flatMap(({ lot, afterwards, standing }) => (afterwards === '' && !standing ? [lot] : [])),
    toBeHadLots: left.flatMap(({ lot, standing }) => (standing ? [lot] : [])),
    unpaidLots: owing.map(({ number }) => number),
    unpaidWords: money(owing.reduce((sum, { owedMinor }) => sum + owedMinor, 0)),
    unplaced: unplaced.length,
    unplacedWords: money(unplaced.reduce((sum, { leftMinor }) => sum + leftMinor, 0)),
    matchedDueWords: statement.matchedDueMinor > 0 ? money(statement.matchedDueMinor) : null,
    unsentLots: toSend.flatMap(({ number }) => (isSent(sight, idOf(number)) ? [] : [number])),
    problemLots: toSend.flatMap(({ number }) => ([null, 'closed'].includes(problemStateOf(sight, idOf(number))) ? [] : [number])),
    varianceWords: account.varianceMinor === 0 ? null : `It is out by ${money(account.varianceMinor)}; the statement says where.`,
    toRemitWords: statement.toRemitMinor === 0 ? null : money(statement.toRemitMinor),
    toTell: letters.toSend.length,
    cannotTell: letters.without.filter(({ why }) => why.startsWith('No mail')).length,
    packOn: pack ? day(pack.at) : null,
    isPackOld: pack !== null && pack.lastEntry < journal.length,
    contactsDueOn: day(dueAt),
    contactsDeletedOn: deleted === null ? null : day(deleted),
    isContactsDue: sight.now >= dueAt,
  })
}
