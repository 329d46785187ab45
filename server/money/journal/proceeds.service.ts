import { getCampaign } from '#people/campaign/campaign.service'
import type { Sight } from '#runtime/queue/turn'
import type { LotCard } from '#sale/lots/lots.contract'
import { listLots } from '#sale/lots/lots.service'
import type { Meter } from './books.contract'
import type { Matched } from './matching.rules'
import * as store from './money.store'
import { type CountOf, countProceeds, lotAccounts, matchAll } from './proceeds.rules'

/** Where every penny stands that counts towards the target: bid, won, paid or remitted, never in two of them. */
export function proceeds(sight: Sight): Meter {
  const campaign = getCampaign(sight)
  const lots = listLots(sight)
  const counted = countOf(sight, lots)
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

/** What each promise of matched giving comes to at this moment. */
export const matchedNow = (sight: Sight): Matched[] => matchAll(countOf(sight, listLots(sight)))

function countOf(sight: Sight, lots: readonly LotCard[]): CountOf {
  const campaign = getCampaign(sight)
  return {
    lots: lots.map((lot) => ({
      isOpen: lot.state === 'open' || lot.state === 'held',
      standingMinor: lot.standingMinor,
      reserve: lot.reserve,
    })),
    entries: store.readJournal(sight.db),
    promises: store.listPromises(sight.db).map(({ endedAt, ...row }) => ({ ...row, isEnded: endedAt !== null })),
    shareBp: campaign.causeShareBp,
    targetMinor: campaign.targetMinor,
  }
}
