import { findCampaign } from '../campaign/campaign.service'
import { toIso } from '../kernel/instant'
import { type Address, json } from '../web/address'
import { proceeds } from './proceeds.service'

export const moneyAddresses: Address[] = [
  {
    path: '/proceeds.json',
    answer: (sight) =>
      findCampaign(sight) ? json({ ...proceeds(sight), at: toIso(sight.now), links: { lots: '/lots.json', credits: '/credits' } }) : null,
  },
]
