import { getCampaign } from '#people/campaign/campaign.service'
import { getDay } from '#people/campaign/stream-days.service'
import type { Sight } from '#runtime/queue/turn'
import { followersOf } from '../bidding/followers.service'
import { listItemsOfDay, readAudience } from '../programme/programme.service'
import { warningsOf } from './warnings.rules'

/** What the plan of a stream day should not overlook, in sentences. */
export function readWarnings(sight: Sight, number?: number): string[] {
  const { zone } = getCampaign(sight)
  const day = getDay(sight, number)
  return warningsOf({
    now: sight.now,
    opensAt: day.opensAt,
    closesAt: day.closesAt,
    home: zone,
    zones: readAudience(sight).map((each) => each.zone),
    closings: listItemsOfDay(sight, day).flatMap(({ lot, runsTo, isOver }) =>
      lot === null || isOver ? [] : [{ lot, at: runsTo, followers: followersOf(sight, lot) }],
    ),
  })
}
