import { toIso } from '#kernel/instant'
import { findCampaign } from '#people/campaign/campaign.service'
import { type Address, json } from '#runtime/call/address'
import { proceeds } from './proceeds.service'

export const proceedsAddresses: Address[] = [
  {
    path: '/proceeds.json',
    answer: (sight) =>
      findCampaign(sight) ? json({ ...proceeds(sight), at: toIso(sight.now), links: { lots: '/lots.json', credits: '/credits' } }) : null,
  },
]
