import { DAY } from '#kernel/instant'
import { getCampaign } from '#people/campaign/campaign.service'
import type { Sight } from '#runtime/queue/turn'
import { listStandingBids } from '#sale/history/history.service'
import { getLotRow, listLots } from '#sale/lots/lots.service'
import { readJournal } from '../journal/entries.service'
import { listPromises } from '../matching/matching.service'
import { dayOf } from './day.rules'
import type { DayFrame } from './pictures.contract'

/** What was counted through the stream day, with each close. It reaches to the end of the stream or to the last closing, whichever is later, or to now while that has not come. */
export function readDay(sight: Sight): DayFrame {
  const { currency, zone, streamOpensAt, streamClosesAt, causeShareBp, targetMinor } = getCampaign(sight)
  const all = listLots(sight)
  // A closing a day after the stream is of another day: the machine was put into a lot once more.
  const closings = all.flatMap(({ endedAt, closesAt }) => endedAt ?? closesAt ?? []).filter((at) => at < streamClosesAt + DAY)
  const endsAt = Math.max(streamClosesAt, ...closings)
  const lots = all.map(({ id, number, hammerMinor, causeShareBp: shareBp }) => {
    const row = getLotRow(sight, number)
    return { id, number, hammerMinor, shareBp, reserveMinor: row.reserve?.amountMinor ?? null }
  })
  const { points, closes } = dayOf({
    fromAt: streamOpensAt,
    toAt: Math.min(sight.now, endsAt),
    standings: listStandingBids(sight),
    lots,
    entries: readJournal(sight),
    promises: listPromises(sight).map((row) => ({ ...row, isEnded: false })),
    shareBp: causeShareBp,
    targetMinor,
  })
  return { currency, zone, targetMinor, fromAt: streamOpensAt, toAt: endsAt, at: sight.now, points, closes }
}
