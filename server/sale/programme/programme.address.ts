import { DateTime } from 'luxon'
import { toIso } from '#kernel/instant'
import type { Campaign } from '#people/campaign/campaign.contract'
import { findCampaign } from '#people/campaign/campaign.service'
import { listDays } from '#people/campaign/stream-days.service'
import { type Address, bytes, json } from '#runtime/call/address'
import type { Sight } from '#runtime/queue/turn'
import { lastCheckpoint } from '../history/history.service'
import { findLot, findShownLot } from '../lots/lots.service'
import { atomOf } from './atom.rules'
import { calendarOf, closingCalendar } from './calendar'
import { lastChanges, readChanges, readRemoved } from './changes.service'
import { inOrderOfDay, itemsOfAllDays } from './programme.rules'
import { listItems, publicProgramme } from './programme.service'

const CALENDAR = 'text/calendar; charset=utf-8'

export const programmeAddresses: Address[] = [
  {
    path: '/programme.json',
    answer: (sight) => {
      if (!findCampaign(sight)) return null
      const programme = publicProgramme(sight)
      const { name, zone, opensAt, closesAt } = programme
      return json({
        name,
        zone,
        opensAt: toIso(opensAt),
        closesAt: toIso(closesAt),
        days: listDays(sight).map((day) => ({ opensAt: toIso(day.opensAt), closesAt: toIso(day.closesAt) })),
        items: inOrderOfDay(itemsOfAllDays(programme)).map(
          ({ id, kind, title, note, lot, unit, startsAt, endsAt, runsTo, isOver, isHeld, sequence }) => ({
            id,
            kind,
            title,
            note,
            lot,
            unit,
            startsAt: toIso(startsAt),
            endsAt: toIso(kind === 'closing' ? runsTo : endsAt),
            isOver,
            isHeld,
            sequence,
            links: lot === null ? {} : { lot: `/lots/${lot}` },
          }),
        ),
        links: { calendar: '/programme.ics', changes: '/programme.atom', picture: '/programme.png' },
      })
    },
  },
  {
    path: '/programme.ics',
    answer: (sight) => {
      if (!findCampaign(sight)) return null
      return bytes(CALENDAR, calendarOf(publicProgramme(sight), readRemoved(sight), lastChanges(sight), sight.publicUrl), 'programme.ics')
    },
  },
  {
    path: '/lots/:number/closing.ics',
    answer: (sight, { number = '' }) => {
      const lot = findShownLot(sight, number)
      if (!lot || (lot.closesAt === null && lot.endedAt === null)) return null
      const item = listItems(sight).find(({ uid }) => uid === lot.id) ?? null
      return bytes(CALENDAR, closingCalendar(lot, item, lastChanges(sight), sight.publicUrl), `lot-${lot.number}.ics`)
    },
  },
  {
    path: '/programme.atom',
    answer: (sight) => {
      const campaign = findCampaign(sight)
      if (!campaign) return null
      const startedAt = Math.min(sight.now, campaign.streamOpensAt)
      return bytes(
        'application/atom+xml; charset=utf-8',
        atomOf(readChanges(sight), { publicUrl: sight.publicUrl, startedAt, year: yearOf(campaign), headOf: endHeads(sight) }),
      )
    },
  },
]

/** The year of the stream by its own clock. */
const yearOf = ({ streamOpensAt, zone }: Campaign): number => DateTime.fromMillis(streamOpensAt, { zone }).year

/** The signed head of each lot that has ended. */
const endHeads = (sight: Sight) => (number: number) => {
  const lot = findLot(sight, number)
  return lot && lot.endedAt !== null ? lastCheckpoint(sight, lot.id) : null
}
