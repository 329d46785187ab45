import { programmePictureOf } from '#air/telling/telling.rules'
import { lotPicture } from '#air/telling/telling.service'
import { toIso } from '#kernel/instant'
import { findCampaign } from '#people/campaign/campaign.service'
import { type Address, bytes, json } from '#runtime/call/address'
import { findLot } from '../lots/lots.service'
import { atomOf } from './atom.rules'
import { calendarOf, closingCalendar } from './calendar'
import { readChanges, readRemoved } from './changes.service'
import { listItems, publicProgramme } from './programme.service'

const CALENDAR = 'text/calendar; charset=utf-8'
/** A picture of a link is asked for by whoever shows it, and kept there far longer than this. */
const KEEP_PICTURE = 60

/** A lot that everybody may see. */
function shownLot(sight: Parameters<Address['answer']>[0], number = '') {
  const lot = /^[1-9]\d{0,8}$/.test(number) ? findLot(sight, Number(number)) : null
  return lot && lot.state !== 'draft' ? lot : null
}

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
        links: { calendar: '/programme.ics', changes: '/programme.atom', picture: '/programme.png' },
      })
    },
  },
  {
    path: '/programme.ics',
    answer: (sight) => {
      if (!findCampaign(sight)) return null
      return bytes(CALENDAR, calendarOf(publicProgramme(sight), readRemoved(sight), sight.publicUrl), 'programme.ics')
    },
  },
  {
    path: '/lots/:number/closing.ics',
    answer: (sight, { number }) => {
      const lot = shownLot(sight, number)
      if (!lot || (lot.closesAt === null && lot.endedAt === null)) return null
      const item = listItems(sight).find(({ uid }) => uid === lot.id) ?? null
      return bytes(CALENDAR, closingCalendar(lot, item, sight.publicUrl), `lot-${lot.number}.ics`)
    },
  },
  {
    path: '/programme.atom',
    answer: (sight) => {
      const campaign = findCampaign(sight)
      if (!campaign) return null
      const startedAt = Math.min(sight.now, campaign.streamOpensAt)
      return bytes('application/atom+xml; charset=utf-8', atomOf(readChanges(sight), { publicUrl: sight.publicUrl, startedAt }))
    },
  },
  {
    path: '/programme.png',
    answer: (sight) => {
      const campaign = findCampaign(sight)
      if (!campaign) return null
      const print = programmePictureOf(publicProgramme(sight), campaign.causeName)
      return { type: 'image/png', body: { print }, keepSeconds: KEEP_PICTURE }
    },
  },
  {
    path: '/lots/:number/card.png',
    answer: (sight, { number }) => {
      const lot = shownLot(sight, number)
      return lot && { type: 'image/png', body: { print: lotPicture(sight, lot) }, keepSeconds: KEEP_PICTURE }
    },
  },
]
