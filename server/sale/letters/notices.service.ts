import { civilOf } from '#kernel/civil'
import { idInTime } from '#kernel/id-in-time'
import type { Instant } from '#kernel/instant'
import { getCampaign } from '#people/campaign/campaign.service'
import { MOST_TRIES } from '#people/outbox/carrying.rules'
import { NOT_KNOWN, type Reviewed, rewriteLetter } from '#people/outbox/outbox.service'
import { sealWords, unsealWords } from '#people/outbox/sealed-words'
import { findPerson } from '#people/people/people.service'
import type { Sweep } from '#runtime/queue/ticker'
import type { Sight, Turn } from '#runtime/queue/turn'
import { getLotRowById, type LotRow } from '../lots/lots.service'
import { gatheredLetter } from './gathered.rules'
import * as words from './letter-words.rules'
import { GATHERED_FOR, type LotOfReader, type NoticeKind, SAID_BY_LETTER, whatToTell } from './notices.rules'
import * as store from './notices.store'

/** Notes what is to be told to somebody; nothing is written to them yet. */
export function notify(
  turn: Turn,
  personId: string,
  lotId: string,
  kind: NoticeKind,
  { reason = '', forReader }: { reason?: string; forReader?: string } = {},
): void {
  const id = idInTime(turn.now, turn.dice.id())
  const sealedWords = forReader === undefined ? null : sealWords(turn.keys, id, forReader)
  store.insertNotice(turn.db, { id, personId, lotId, kind, at: turn.now, words: reason, sealedWords })
}

/**
 * Writes one letter to each person for whom something has waited long enough, and puts all into it that waits for them. What
 * was gathered before and has not gone out yet comes into the same letter.
 */
export const noticeSweep: Sweep = {
  name: 'notices',
  nextAt: ({ db }) => {
    const oldest = store.oldestWaiting(db)
    return oldest === null ? null : oldest + GATHERED_FOR
  },
  run: (turn) => gatherNotices(turn, turn.now - GATHERED_FOR, AT_ONCE),
}

/** How much one run of the sweep looks at. After an outage hundreds are written to, and no bid waits for all of their letters. */
const AT_ONCE = 10

/** All that waits for those for whom the longest waiting of so many things happened, where it has waited since then. */
export function gatherNotices(turn: Turn, since: Instant, most: number): void {
  for (const personId of store.listWaitingSince(turn.db, since, most)) gatherFor(turn, personId)
}

function gatherFor(turn: Turn, personId: string): void {
  const waiting = store.listWaitingOf(turn.db, personId)
  const ids = waiting.map(({ id }) => id)
  const before = store.findWaitingLetter(turn.db, personId, { given: NOT_KNOWN, mostTries: MOST_TRIES })
  const letter = write(turn, personId, before === null ? waiting : [...store.listOfLetter(turn.db, before), ...waiting])
  const to = findPerson(turn, personId)?.email
  if (before !== null) {
    rewriteLetter(turn, before, letter ?? 'overtaken')
    store.markGathered(turn.db, ids, before, turn.now)
  } else store.markGathered(turn.db, ids, letter && to ? turn.post({ to, ...letter }) : null, turn.now)
}

/** What waits for somebody of a purchase that fell through is told to their devices alone: a letter of its own says it. */
export const saidByLetter = (turn: Turn, personId: string, lotId: string): void =>
  store.changeWaiting(turn.db, { personId, lotId, kind: 'fell-through' }, SAID_BY_LETTER)

/** How a lot ended, where a letter of notices says it. */
const ENDS: readonly NoticeKind[] = ['lost', 'unsold', 'withdrawn']

/** Takes what waits for somebody of how these lots ended, for a letter that tells it instead. Answers the lots of which it waited. */
export function takeEnds(turn: Turn, personId: string, lotIds: ReadonlySet<string>): ReadonlySet<string> {
  const taken = store.listWaitingOf(turn.db, personId).filter(({ kind, lotId }) => ENDS.includes(kind) && lotIds.has(lotId))
  const ids = taken.map(({ id }) => id)
  if (ids.length > 0) store.markGathered(turn.db, ids, null, turn.now)
  return new Set(taken.map(({ lotId }) => lotId))
}

/** What a letter of notices says at this instant; it goes out in no other words. */
export function reviewNotices(turn: Turn, letterId: string): Reviewed {
  const notices = store.listOfLetter(turn.db, letterId)
  const [first] = notices
  return first ? (write(turn, first.personId, notices) ?? 'overtaken') : 'as it is'
}

/** The letter that tells all of it as it is now; null when nothing of it holds any more. */
function write(turn: Turn, personId: string, notices: readonly store.NoticeRow[]): words.Words | null {
  // Somebody who bids all evening is told hundreds of things of a few lots.
  const lots = new Set(notices.map(({ lotId }) => lotId))
  const rows = new Map([...lots].map((lotId) => [lotId, getLotRowById(turn, lotId)]))
  const rowOf = (lotId: string): LotRow => rows.get(lotId) ?? getLotRowById(turn, lotId)
  const lotOf = (lotId: string): LotOfReader => {
    const { state, leaderPersonId, closesAt } = rowOf(lotId)
    return { state, leads: leaderPersonId === personId, closesAt }
  }
  const told = whatToTell(
    notices.map((one) => ({ ...one, isPushed: one.pushedAt !== null })),
    lotOf,
    turn.now,
  )
  const about = told.map(({ lotId }) => rowOf(lotId).number)
  const movedTogether = wordsOfMoved(turn, personId, told, rowOf)
  const rest = movedTogether ? told.filter(({ kind }) => kind !== 'moved') : told
  const parts = [...(movedTogether ? [movedTogether] : []), ...rest.map((one) => wordsOf(turn, personId, one, rowOf(one.lotId)))]
  const [first, ...more] = parts
  return first ? gatheredLetter([first, ...more], about) : null
}

/** A hold of the day moves many closings for one reason, which is said once. */
function wordsOfMoved(sight: Sight, personId: string, told: readonly store.NoticeRow[], rowOf: (lotId: string) => LotRow) {
  const moved = told.filter(({ kind }) => kind === 'moved')
  if (moved.length < 2 || moved.some(({ words: reason }) => reason !== moved[0]?.words)) return null
  const closings = moved
    .map(({ lotId }) => rowOf(lotId))
    .sort((a, b) => (a.closesAt ?? 0) - (b.closesAt ?? 0))
    .map((row) => ({ lot: about(sight, row), at: localTime(sight, personId, row.closesAt ?? sight.now) }))
  return words.newClosingsLetter(closings, moved[0]?.words ?? '', sight.publicUrl)
}

function wordsOf(sight: Sight, personId: string, { kind, words: reason, id, sealedWords }: store.NoticeRow, row: LotRow): words.Words {
  const lot = about(sight, row)
  const closing = () => localTime(sight, personId, row.closesAt ?? sight.now)
  const standing = row.standingMinor ?? 0
  switch (kind) {
    case 'outbid':
      return words.outbidLetter(lot, standing, row.state === 'open' ? closing() : null)
    case 'bound-again':
      return words.boundAgainLetter(lot, standing, row.state === 'open' ? closing() : null)
    case 'voided':
      return words.voidLetter(lot, reason)
    case 'won':
    case 'lost':
      return words.lostLetter(lot, row.hammerMinor ?? standing)
    case 'unsold':
      return words.notSoldLetter(lot, row.leaderPersonId === personId)
    case 'withdrawn':
      return words.withdrawnLetter(lot, reason)
    case 'corrected':
      return words.correctionLetter(lot, reason)
    case 'held':
      return words.onHoldLetter(lot, reason)
    case 'goes-on':
      return words.goesOnLetter(lot, closing())
    case 'moved':
      return words.newClosingLetter(lot, closing(), reason)
    case 'woken':
      return words.wokenLetter(lot, {
        why: reason as words.WhyWoken,
        leads: row.leaderPersonId === personId,
        maximum: sealedWords === null ? '' : unsealWords(sight.keys, id, sealedWords),
        standingMinor: standing,
      })
    case 'lapsed':
      return words.lapsedLetter(lot, reason)
    case 'fell-through':
      return words.fellThroughLetter(lot)
    case 'stands-again':
      return words.standsAgainLetter(lot)
    case 'closes-soon':
      return words.reminderLetter(lot, closing(), row.standingMinor)
  }
}

/** What happened since then and waits to be told; a device may tell it at once. */
export const listWaitingFrom = (sight: Sight, at: Instant): store.NoticeRow[] => store.listWaitingFrom(sight.db, at)

/** A device of theirs has told them. */
export const markPushed = (turn: Turn, ids: readonly string[]): void => store.markPushed(turn.db, ids, turn.now)

/** What every letter says of the lot that it is about. */
export const about = (sight: Sight, row: LotRow): words.AboutLot => ({
  number: row.number,
  title: row.terms?.sale.title ?? row.title,
  currency: row.terms?.currency ?? getCampaign(sight).currency,
  publicUrl: sight.publicUrl,
})

/** An instant as its reader's clocks show it, with the day. */
export function localTime(sight: Sight, personId: string, at: Instant): words.LocalTime {
  const zone = findPerson(sight, personId)?.zone ?? getCampaign(sight).zone
  const [, clock = ''] = civilOf(at, zone).split('T')
  return { day: dayIn(zone).format(at).replace(',', ''), clock, zone }
}

/** To make what writes a day takes longer than all else of a letter, and there are few zones. */
const daysIn = new Map<string, Intl.DateTimeFormat>()

function dayIn(zone: string): Intl.DateTimeFormat {
  const kept = daysIn.get(zone) ?? new Intl.DateTimeFormat('en-GB', { weekday: 'long', day: 'numeric', month: 'long', timeZone: zone })
  daysIn.set(zone, kept)
  return kept
}
