import ical, { ICalAlarmType, ICalCalendarMethod, ICalEventStatus } from 'ical-generator'
import { HOUR, type Instant, MINUTE } from '#kernel/instant'
import type { LotCard } from '../lots/lots.contract'
import type { RemovedItem } from './changes.contract'
import type { Programme, ProgrammeItem } from './programme.contract'
import { AFTER_CLOSING, itemsOfAllDays } from './programme.rules'

/** How long before a closing a calendar reminds. */
const REMIND = [HOUR, 10 * MINUTE]

/** When the closing of each lot was changed last: moved, extended, held, ended; and how often its clock stopped or went on. */
export type LastChanges = ReadonlyMap<number, { at: Instant; stops: number }>

interface Entry {
  uid: string
  /** Rises whenever the entry changes; a calendar takes the highest (RFC 5545, 3.8.7.4). */
  sequence: number
  changedAt: Instant
  startsAt: Instant
  endsAt: Instant
  summary: string
  note: string
  path: string
  isCancelled: boolean
  /** Its clock is stopped, so nobody knows yet when it closes. */
  isHeld: boolean
  reminds: boolean
}

const HELD =
  'The clock of this lot is stopped, and no bid is taken. It does not close before its clock goes on; the lot’s page and the programme tell why, and when it does.'

const MOVES = 'A late bid moves the closing; the time on the lot’s page is the one that counts.'

/** The whole programme as an iCalendar object (RFC 5545): what was announced, and what does not take place after all. */
export const calendarOf = (programme: Programme, removed: readonly RemovedItem[], changed: LastChanges, publicUrl: string): string =>
  write(programme.name, `${publicUrl}/programme.ics`, publicUrl, [
    ...itemsOfAllDays(programme).map((item) => ({ ...entryOfItem(item, changed), reminds: false })),
    ...removed.map(entryOfRemoved),
  ])

/** One lot's closing, the same entry as in the whole programme, with reminders; for anybody, with no account. */
export function closingCalendar(lot: LotCard, item: ProgrammeItem | null, changed: LastChanges, publicUrl: string): string {
  const entry = item ? entryOfItem(item, changed) : entryOfLot(lot, changed)
  return write(`Lot ${lot.number} closes`, `${publicUrl}/lots/${lot.number}/closing.ics`, publicUrl, [entry])
}

/** Times are in UTC, so no clock change can shift them. The UID stays for life. */
function write(name: string, source: string, publicUrl: string, entries: readonly Entry[]): string {
  const calendar = ical({
    name,
    prodId: { company: 'Tagstrip', product: 'programme', language: 'EN' },
    method: ICalCalendarMethod.PUBLISH,
    timezone: null,
    ttl: 5 * 60,
    url: source,
    source,
  })
  for (const entry of entries) {
    const event = calendar.createEvent({
      id: entry.uid,
      sequence: entry.sequence,
      stamp: new Date(entry.changedAt),
      lastModified: new Date(entry.changedAt),
      status: statusOf(entry),
      start: new Date(entry.startsAt),
      end: new Date(entry.endsAt),
      summary: entry.summary,
      description: entry.note,
      url: `${publicUrl}${entry.path}`,
    })
    if (entry.reminds)
      for (const before of REMIND) event.createAlarm({ type: ICalAlarmType.display, trigger: before / 1000, description: entry.summary })
  }
  // Every line ends with CRLF (RFC 5545, 3.1), the last one too.
  return `${calendar.toString().trimEnd()}\r\n`
}

const statusOf = ({ isCancelled, isHeld }: Entry): ICalEventStatus =>
  isCancelled ? ICalEventStatus.CANCELLED : isHeld ? ICalEventStatus.TENTATIVE : ICalEventStatus.CONFIRMED

function entryOfItem(item: ProgrammeItem, changed: LastChanges): Entry {
  const { uid, note, lot } = item
  const isClosing = item.kind === 'closing'
  const last = changed.get(lot ?? 0)
  return {
    uid,
    sequence: item.sequence + (last?.stops ?? 0),
    changedAt: Math.max(item.changedAt, last?.at ?? 0),
    startsAt: isClosing ? item.runsTo : item.startsAt,
    endsAt: isClosing ? item.runsTo + AFTER_CLOSING : item.endsAt,
    summary: summaryOf(item),
    note: [note, item.isHeld ? HELD : '', isClosing && !item.isOver ? MOVES : ''].filter(Boolean).join('\n\n'),
    path: lot === null ? '/programme' : `/lots/${lot}`,
    isCancelled: item.isWithdrawn,
    isHeld: item.isHeld,
    reminds: isClosing && !item.isOver && !item.isHeld,
  }
}

/** A lot whose closing stands in no programme: its history grows whenever the closing moves, so its size is the sequence. */
function entryOfLot(lot: LotCard, changed: LastChanges): Entry {
  const at = lot.endedAt ?? lot.closesAt ?? 0
  const isOver = lot.endedAt !== null
  const isHeld = lot.heldSince !== null && !isOver
  return {
    uid: lot.id,
    sequence: lot.ledgerSize,
    changedAt: Math.max(lot.endedAt ?? lot.openedAt ?? at, changed.get(lot.number)?.at ?? 0),
    startsAt: at,
    endsAt: at + AFTER_CLOSING,
    summary: closingWords(`Lot ${lot.number}: ${lot.title}`, { isOver, isHeld, isWithdrawn: lot.state === 'withdrawn' }),
    note: [isHeld ? HELD : '', isOver ? '' : MOVES].filter(Boolean).join('\n\n'),
    path: `/lots/${lot.number}`,
    isCancelled: lot.state === 'withdrawn',
    isHeld,
    reminds: !isOver && !isHeld,
  }
}

const entryOfRemoved = ({ uid, sequence, at, startsAt, endsAt, title }: RemovedItem): Entry => ({
  uid,
  sequence,
  changedAt: at,
  startsAt,
  endsAt,
  summary: `${title} (cancelled)`,
  note: '',
  path: '/programme',
  isCancelled: true,
  isHeld: false,
  reminds: false,
})

function summaryOf(item: ProgrammeItem): string {
  if (item.kind === 'closing') return closingWords(item.title, item)
  return item.kind === 'guest' ? `Guest: ${item.title}` : item.title
}

const closingWords = (title: string, { isOver, isHeld, isWithdrawn }: Pick<ProgrammeItem, 'isOver' | 'isHeld' | 'isWithdrawn'>): string =>
  isWithdrawn ? `${title} (withdrawn)` : isOver ? `${title} (closed)` : isHeld ? `${title} (on hold)` : `${title} closes`
