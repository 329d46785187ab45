import { findCampaign } from '#people/campaign/campaign.service'
import type { Sight } from '#runtime/queue/turn'
import { ALL_GOES, type Going } from './contact-data.rules'
import * as keep from './keep.store'

/**
 * Whose contact data goes when that of the campaign which is looked at is deleted: everybody's, but for those who take part in a later
 * campaign, said that they want to be kept for it, or still have time to say so.
 */
export function goingNow(sight: Sight): Going {
  const { db, now } = sight
  const campaign = findCampaign(sight)
  if (!campaign || campaign.endedAt === null) return ALL_GOES
  const { number, endedAt } = campaign
  const kept = keep.keptQuestions(db, number, now)
  return {
    bidders: { but: [...new Set([...keep.biddersSince(db, endedAt), ...kept.flatMap(({ personId }) => personId ?? [])])] },
    donors: { but: [...new Set([...keep.donorsSince(db, endedAt), ...kept.flatMap(({ donorId }) => donorId ?? [])])] },
    lots: { but: keep.lotsAfter(db, number) },
    until: endedAt,
  }
}
