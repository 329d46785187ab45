import { getCampaign } from '#people/campaign/campaign.service'
import type { Sight } from '#runtime/queue/turn'
import { listLots } from '#sale/lots/lots.service'
import { lotAccounts } from '../journal/covering.rules'
import { matchFacts } from '../matching/matching.service'
import type { Meter } from './proceeds.contract'
import { countProceeds } from './proceeds.rules'

/** Where every penny stands that counts towards the target: bid, won, paid or remitted, never in two of them. */
export function proceeds(sight: Sight): Meter {
  const campaign = getCampaign(sight)
  const lots = listLots(sight)
  const counted = { ...matchFacts(sight, lots), targetMinor: campaign.targetMinor }
  const count = (...states: string[]) => lots.filter(({ state }) => states.includes(state)).length
  const fellThrough = lotAccounts(counted.entries).filter(({ hammerMinor }) => hammerMinor === 0).length
  return {
    currency: campaign.currency,
    causeName: campaign.causeName,
    causeShareBp: campaign.causeShareBp,
    lots: { open: count('open', 'held'), sold: count('sold') - fellThrough, unsold: count('unsold'), fellThrough },
    ...countProceeds(counted),
  }
}
