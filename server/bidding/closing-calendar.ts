import ical, { ICalAlarmType, ICalCalendarMethod, ICalEventStatus } from 'ical-generator'
import { HOUR, MINUTE } from '../kernel/instant'
import type { LotCard } from '../lots/lots.contract'

const REMIND = [HOUR, 10 * MINUTE]
/** How long the entry is drawn; a closing is an instant. */
const SHOWN = 10 * MINUTE

/**
 * One lot's closing as an iCalendar object (RFC 5545), for anybody, with no account. In UTC; its UID stays for life, and
 * its SEQUENCE is the size of the lot's history, which grows whenever the closing moves.
 */
export function closingCalendar(card: LotCard, house: string, publicUrl: string, now: number): string {
  const calendar = ical({
    name: `Lot ${card.number} closes`,
    prodId: { company: 'Tagstrip', product: 'closing', language: 'EN' },
    method: ICalCalendarMethod.PUBLISH,
    timezone: null,
    ttl: 5 * 60,
  })
  const closesAt = card.endedAt ?? card.closesAt ?? now
  const event = calendar.createEvent({
    id: `lot-${card.number}@${house}`,
    sequence: card.ledgerSize,
    stamp: new Date(now),
    status: card.state === 'withdrawn' ? ICalEventStatus.CANCELLED : ICalEventStatus.CONFIRMED,
    start: new Date(closesAt),
    end: new Date(closesAt + SHOWN),
    summary: `Lot ${card.number} closes: ${card.title}`,
    description: 'A late bid moves the closing; the page of the lot has the time that counts.',
    url: `${publicUrl}/lots/${card.number}`,
  })
  for (const before of REMIND)
    event.createAlarm({ type: ICalAlarmType.display, trigger: before / 1000, description: `Lot ${card.number} closes soon` })
  return calendar.toString()
}
