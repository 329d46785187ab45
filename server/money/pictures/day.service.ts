import { DAY } from '#kernel/instant'
import { getCampaign } from '#people/campaign/campaign.service'
import { dayAt } from '#people/campaign/stream-days.rules'
import { getDay, listDays, presentDay } from '#people/campaign/stream-days.service'
import type { Sight } from '#runtime/queue/turn'
import { listStandingBids } from '#sale/history/history.service'
import { getLotRow, listLots } from '#sale/lots/lots.service'
import { readJournal } from '../journal/entries.service'
import { listPromises } from '../matching/matching.service'
import { dayOf } from './day.rules'
import type { DayFrame } from './pictures.contract'

/** What was counted through a stream day, the one at hand unless another is asked for, with each close. It reaches to the end of the stream or to the last closing, whichever is later, or to now while that has not come. */
export function readDay(sight: Sight, number?: number): DayFrame {
  const { currency, zone, causeShareBp, targetMinor } = getCampaign(sight)
  const day = getDay(sight, number)
  const days = listDays(sight)
  const all = listLots(sight)
  const closings = all.flatMap(({ endedAt, closesAt }) => endedAt ?? closesAt ?? []).filter((at) => dayAt(days, at).number === day.number)
  // A lot that was withdrawn after its day has no closing that the picture would reach for.
  const endsAt = Math.max(day.closesAt, ...closings.filter((at) => at < day.closesAt + DAY))
  const lots = all.map(({ id, number: lot, hammerMinor, causeShareBp: shareBp }) => {
    const row = getLotRow(sight, lot)
    return { id, number: lot, hammerMinor, shareBp, reserveMinor: row.reserve?.amountMinor ?? null }
  })
  const { points, closes } = dayOf({
    fromAt: day.opensAt,
    toAt: Math.min(sight.now, endsAt),
    standings: listStandingBids(sight),
    lots,
    entries: readJournal(sight),
    promises: listPromises(sight).map((row) => ({ ...row, isEnded: false })),
    shareBp: causeShareBp,
    targetMinor,
  })
  return { currency, zone, targetMinor, fromAt: day.opensAt, toAt: endsAt, at: sight.now, points, closes }
}

/** Each stream day that was before the one at hand, the latest first. */
export const readDaysBefore = (sight: Sight): DayFrame[] =>
  listDays(sight)
    .filter(({ number }) => number < presentDay(sight).number)
    .map(({ number }) => readDay(sight, number))
    .reverse()
