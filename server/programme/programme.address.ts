import { findCampaign } from '../campaign/campaign.service'
import { toIso } from '../kernel/instant'
import { type Address, bytes, json } from '../web/address'
import { calendarOf } from './calendar'
import { publicProgramme } from './programme.service'

export const programmeAddresses: Address[] = [
  {
    path: '/programme.json',
    answer: (sight) => {
      if (!findCampaign(sight)) return null
      const { name, zone, opensAt, closesAt, items } = publicProgramme(sight)
      return json({
        name,
        zone,
        opensAt: toIso(opensAt),
        closesAt: toIso(closesAt),
        items: items.map(({ id, kind, title, note, lot, unit, startsAt, endsAt, runsTo, isOver, isHeld, sequence }) => ({
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
        })),
        links: { calendar: '/programme.ics' },
      })
    },
  },
  {
    path: '/programme.ics',
    answer: (sight) => {
      if (!findCampaign(sight)) return null
      return bytes('text/calendar; charset=utf-8', calendarOf(publicProgramme(sight), sight.publicUrl), 'programme.ics')
    },
  },
]
