import { getCampaign } from '#people/campaign/campaign.service'
import type { Sight } from '#runtime/queue/turn'
import { listStandingBids } from '#sale/history/history.service'
import { getLotRow, listLots } from '#sale/lots/lots.service'
import { readJournal } from '../journal/entries.service'
import { listPromises } from '../matching/matching.service'
import { dayOf } from './day.rules'
import type { DayFrame } from './pictures.contract'

/** What was counted through the stream day, with each close. It reaches to the end of the stream, or to now while that has not come. */
export function readDay(sight: Sight): DayFrame {
  const { currency, zone, streamOpensAt, streamClosesAt, causeShareBp, targetMinor } = getCampaign(sight)
  const toAt = Math.min(sight.now, streamClosesAt)
  const lots = listLots(sight).map(({ id, number, hammerMinor, causeShareBp: shareBp }) => {
    const row = getLotRow(sight, number)
    return { id, number, hammerMinor, shareBp, reserveMinor: row.reserve?.amountMinor ?? null }
  })
  const { points, closes } = dayOf({
    fromAt: streamOpensAt,
    toAt,
    standings: listStandingBids(sight),
    lots,
    entries: readJournal(sight),
    promises: listPromises(sight).map((row) => ({ ...row, isEnded: false })),
    shareBp: causeShareBp,
    targetMinor,
  })
  return { currency, zone, targetMinor, fromAt: streamOpensAt, toAt: streamClosesAt, at: sight.now, points, closes }
}
