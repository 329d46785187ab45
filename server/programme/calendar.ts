import ical, { ICalAlarmType, ICalCalendarMethod, ICalEventStatus } from 'ical-generator'
import { HOUR, MINUTE } from '../kernel/instant'
import type { Programme, ProgrammeItem } from './programme.contract'
import { AFTER_CLOSING } from './programme.rules'

/** How long before a closing a calendar reminds. */
const REMIND = [HOUR, 10 * MINUTE]

/**
 * The programme as an iCalendar object (RFC 5545). Times are in UTC, so no clock change can shift
 * them; an event keeps its UID for life and its SEQUENCE rises with every change.
 */
export function calendarOf(programme: Programme, publicUrl: string): string {
  const calendar = ical({
    name: programme.name,
    prodId: { company: 'Tagstrip', product: 'programme', language: 'EN' },
    method: ICalCalendarMethod.PUBLISH,
    timezone: null,
    ttl: 5 * 60,
    url: `${publicUrl}/programme.ics`,
    source: `${publicUrl}/programme.ics`,
  })
  for (const item of programme.items) {
    const event = calendar.createEvent({
      id: item.id,
      sequence: item.sequence,
      stamp: new Date(item.changedAt),
      lastModified: new Date(item.changedAt),
      status: ICalEventStatus.CONFIRMED,
      start: new Date(item.kind === 'closing' ? item.runsTo : item.startsAt),
      end: new Date(item.kind === 'closing' ? item.runsTo + AFTER_CLOSING : item.endsAt),
      summary: summaryOf(item),
      description: descriptionOf(item),
      url: `${publicUrl}${item.lot === null ? '/programme' : `/lots/${item.lot}`}`,
    })
    if (item.kind === 'closing' && !item.isOver) {
      for (const before of REMIND) {
        event.createAlarm({ type: ICalAlarmType.display, trigger: before / 1000, description: summaryOf(item) })
      }
    }
  }
  return calendar.toString()
}

function summaryOf(item: ProgrammeItem): string {
  if (item.kind === 'closing') return item.isOver ? `${item.title} (closed)` : `${item.title} closes`
  return item.kind === 'guest' ? `Guest: ${item.title}` : item.title
}

function descriptionOf(item: ProgrammeItem): string {
  const closing = item.kind === 'closing' ? 'A late bid moves the closing; the page of the lot has the time that counts.' : ''
  return [item.note, closing].filter(Boolean).join('\n\n')
}
