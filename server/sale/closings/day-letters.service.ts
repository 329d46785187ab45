import { civilDayOf } from '#kernel/civil'
import type { Instant } from '#kernel/instant'
import { getCampaign } from '#people/campaign/campaign.service'
import { inCampaign } from '#people/campaign/which.service'
import { findPerson } from '#people/people/people.service'
import type { Sweep } from '#runtime/queue/ticker'
import type { Sight, Turn } from '#runtime/queue/turn'
import { listAliases } from '../bidders/aliases.service'
import { answerOf, listBidsOfPerson } from '../bids/bids.service'
import type { Receipt } from '../history/history.contract'
import { RECEIPTS_NAME, receiptsFile } from '../history/receipts-file.rules'
import { type DayEnd, dayLetter } from '../letters/day-words.rules'
import { GATHERED_FOR } from '../letters/notices.rules'
import { takeEnds } from '../letters/notices.service'
import { getLotRowById, type LotRow } from '../lots/lots.service'
import * as store from './day-letters.store'

/**
 * The letter of the day: one to everybody who bid, with the receipts of all their bids. It goes when no lot is to close on that
 * day any more, as long after the last as news is gathered, or with the end of the day where one was held over it. Each lot stands
 * in one alone, and what a letter of its own has said of it is not said again. Whose letters are due is lined up at once, and
 * they are written a few at a time: with their receipts they take longer than a bid may wait.
 */
export const dayLettersSweep: Sweep = {
  name: 'letters of the day',
  nextAt: (sight) => store.linedUpSince(sight.db) ?? dueAt(sight),
  run: (turn) => {
    const due = dueAt(turn)
    if (due !== null && due <= turn.now) lineUp(turn)
    for (const one of store.listLinedUp(turn.db, AT_ONCE)) {
      write(turn, one)
      store.letGo(turn.db, one)
    }
  },
}

const AT_ONCE = 5

/** The zone of the campaign in which these lots were: the next may have begun since, in another. */
const zoneOf = (sight: Sight, [first]: readonly { id: string }[]): string =>
  getCampaign(first ? inCampaign(sight, getLotRowById(sight, first.id).campaignNumber) : sight).zone

function dueAt(sight: Sight): Instant | null {
  const ended = store.listNotSummedUp(sight.db)
  if (ended.length === 0) return null
  const last = Math.max(...ended.map(({ endedAt }) => endedAt))
  const { from, to } = civilDayOf(last, zoneOf(sight, ended))
  const isToday = ({ state, closesAt }: store.ToEnd) => state === 'held' || (closesAt !== null && closesAt >= from && closesAt < to)
  return store.listToEnd(sight.db).some(isToday) ? to : last + GATHERED_FOR
}

function lineUp(turn: Turn): void {
  const ended = store.listNotSummedUp(turn.db)
  const bidOn = new Map<string, string[]>()
  for (const { id } of ended) {
    for (const { personId } of listAliases(turn, id)) bidOn.set(personId, [...(bidOn.get(personId) ?? []), id])
    store.markSummedUp(turn.db, id, turn.now)
  }
  const last = Math.max(...ended.map(({ endedAt }) => endedAt))
  const day = new Intl.DateTimeFormat('en-GB', {
    day: 'numeric',
    month: 'long',
    year: 'numeric',
    timeZone: zoneOf(turn, ended),
  }).format(last)
  for (const [personId, lots] of bidOn) {
    // Taken now, so that no letter of its own is written of it meanwhile.
    const untold = [...takeEnds(turn, personId, new Set(lots))]
    store.lineUp(turn.db, { personId, at: turn.now, day, lots, untold })
  }
}

function write(turn: Turn, { personId, day, lots: ids, untold }: store.DayLetterRow): void {
  const to = findPerson(turn, personId)?.email
  if (!to) return
  const { currency } = getCampaign(turn)
  const theirs = ids.map((id) => getLotRowById(turn, id))
  const lots = theirs.flatMap((row) => (untold.includes(row.id) ? endOf(row) : []))
  const toldBefore = theirs.flatMap(({ id, number }) => (untold.includes(id) ? [] : number))
  const receipts = receiptsOf(turn, personId)
  const attached = receipts && { fileName: RECEIPTS_NAME, text: receiptsFile(receipts) }
  const words = dayLetter({ day, currency, publicUrl: turn.publicUrl, lots, toldBefore, receipts: receipts?.length ?? null })
  turn.post({ to, ...words, ...(attached && { attached }) })
}

function endOf(row: LotRow): DayEnd {
  const about = { number: row.number, title: row.terms?.sale.title ?? row.title }
  if (row.state === 'withdrawn') return { ...about, is: 'withdrawn', reason: row.endReason ?? '' }
  return row.hammerMinor === null ? { ...about, is: 'unsold' } : { ...about, is: 'lost', hammerMinor: row.hammerMinor }
}

/** Null where what is kept of a bid is damaged: the letter says so, and goes all the same. */
function receiptsOf(sight: Sight, personId: string): Receipt[] | null {
  try {
    return listBidsOfPerson(sight, personId).map((bid) => answerOf(bid).receipt)
  } catch {
    return null
  }
}
