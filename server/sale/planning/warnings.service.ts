import { getCampaign } from '#people/campaign/campaign.service'
import type { Sight } from '#runtime/queue/turn'
import { followersOf } from '../bidding/followers.service'
import { listItems, readAudience } from '../programme/programme.service'
import { warningsOf } from './warnings.rules'

/** What the plan of the day should not overlook, in sentences. */
export function readWarnings(sight: Sight): string[] {
  const { streamOpensAt, streamClosesAt, zone } = getCampaign(sight)
  return warningsOf({
    now: sight.now,
    opensAt: streamOpensAt,
    closesAt: streamClosesAt,
    home: zone,
    zones: readAudience(sight).map((each) => each.zone),
    closings: listItems(sight).flatMap(({ lot, runsTo, isOver }) =>
      lot === null || isOver ? [] : [{ lot, at: runsTo, followers: followersOf(sight, lot) }],
    ),
  })
}
