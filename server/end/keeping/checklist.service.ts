import { DateTime } from 'luxon'
import type { Instant } from '#kernel/instant'
import { showMoney } from '#kernel/money'
import { readBooks } from '#money/journal/books.service'
import { problemStateOf } from '#money/sending/problems.service'
import { isSent } from '#money/sending/sent.service'
import { listToSend } from '#money/sending/won.service'
import { getCampaign } from '#people/campaign/campaign.service'
import type { Actor, Sight } from '#runtime/queue/turn'
import { getLotRow, listLots } from '#sale/lots/lots.service'
import { readAccount } from './account.service'
import { endChecklist } from './checklist.rules'
import { contactsDueAt } from './forget.service'
import type { CheckItem } from './keeping.contract'
import * as store from './keeping.store'
import { readTelling } from './telling.service'

/** Where the end of the campaign stands, each point from what there is. */
export function readChecklist(sight: Sight, actor: Actor): CheckItem[] {
  const { currency, zone } = getCampaign(sight)
  const money = (minor: number) => showMoney(minor, currency)
  const day = (at: Instant) => DateTime.fromMillis(at, { zone, locale: 'en-GB' }).toFormat('d LLLL yyyy')
  const numbersIn = (...states: string[]) => listLots(sight).flatMap(({ number, state }) => (states.includes(state) ? [number] : []))
  const { statement, unplaced, journal } = readBooks(sight, actor)
  const account = readAccount(sight)
  const owing = statement.lots.filter(({ owedMinor }) => owedMinor > 0)
  const toSend = listToSend(sight).filter(({ state }) => state !== 'fell through')
  const idOf = (number: number) => getLotRow(sight, number).id
  const telling = readTelling(sight)
  const pack = store.listPacks(sight.db).find(({ isWhole }) => isWhole)
  const [deletion] = store.listDeletions(sight.db)
  const dueAt = contactsDueAt(sight) ?? sight.now
  return endChecklist({
    openLots: numbersIn('open', 'held'),
    unopenedLots: numbersIn('draft', 'ready'),
    endedLots: numbersIn('sold', 'unsold', 'withdrawn').length,
    unpaidLots: owing.map(({ number }) => number),
    unpaidWords: money(owing.reduce((sum, { owedMinor }) => sum + owedMinor, 0)),
    unplaced: unplaced.length,
    unplacedWords: money(unplaced.reduce((sum, { leftMinor }) => sum + leftMinor, 0)),
    matchedDueWords: statement.matchedDueMinor > 0 ? money(statement.matchedDueMinor) : null,
    unsentLots: toSend.flatMap(({ number }) => (isSent(sight, idOf(number)) ? [] : [number])),
    problemLots: toSend.flatMap(({ number }) => ([null, 'closed'].includes(problemStateOf(sight, idOf(number))) ? [] : [number])),
    varianceWords: account.varianceMinor === 0 ? null : `It is out by ${money(account.varianceMinor)}; the statement says where.`,
    toRemitWords: statement.toRemitMinor === 0 ? null : money(statement.toRemitMinor),
    toTell: telling.toTell.length,
    cannotTell: telling.notTold.filter(({ why }) => why.startsWith('No mail')).length,
    packOn: pack ? day(pack.at) : null,
    isPackOld: pack !== undefined && pack.lastEntry < journal.length,
    contactsDueOn: day(dueAt),
    contactsDeletedOn: deletion ? day(deletion.at) : null,
    isContactsDue: sight.now >= dueAt,
  })
}
