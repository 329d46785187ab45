import { getCampaign } from '../campaign/campaign.service'
import { listLots } from '../lots/lots.service'
import type { Sight } from '../runtime/turn'
import type { Meter } from './money.contract'
import { readJournal } from './money.store'
import { countProceeds } from './proceeds.rules'

/** Where every penny stands that counts towards the target: bid, won, paid or remitted, never in two of them. */
export function proceeds(sight: Sight): Meter {
  const campaign = getCampaign(sight)
  const lots = listLots(sight)
  const count = (...states: string[]) => lots.filter(({ state }) => states.includes(state)).length
  return {
    currency: campaign.currency,
    causeName: campaign.causeName,
    causeShareBp: campaign.causeShareBp,
    lots: { open: count('open', 'held'), sold: count('sold'), unsold: count('unsold') },
    ...countProceeds({
      lots: lots.map((lot) => ({
        isOpen: lot.state === 'open' || lot.state === 'held',
        standingMinor: lot.standingMinor,
        reserve: lot.reserve,
      })),
      entries: readJournal(sight.db),
      shareBp: campaign.causeShareBp,
      targetMinor: campaign.targetMinor,
    }),
  }
}
