import { getCampaign } from '#people/campaign/campaign.service'
import type { Sight } from '#runtime/queue/turn'
import type { LotCard } from '#sale/lots/lots.contract'
import { listLots } from '#sale/lots/lots.service'
import { lotAccounts } from '../journal/covering.rules'
import { matchFacts } from '../matching/matching.service'
import type { Meter } from './proceeds.contract'
import { countProceeds } from './proceeds.rules'
import { type RaisedPart, raisedParts } from './raised-parts.rules'

/** Where every penny stands that counts towards the target: bid, won, paid or remitted, never in two of them. */
export function proceeds(sight: Sight): Meter {
  const campaign = getCampaign(sight)
  const lots = listLots(sight)
  const counted = { ...matchFacts(sight, lots), targetMinor: campaign.targetMinor }
  const count = (...states: string[]) => lots.filter(({ state }) => states.includes(state)).length
  const accounts = new Map(lotAccounts(counted.entries).map((account) => [account.lotId, account]))
  const fellThrough = [...accounts.values()].filter(({ hammerMinor }) => hammerMinor === 0).length
  const isSold = ({ id, state }: LotCard) => (accounts.get(id)?.hammerMinor ?? (state === 'sold' ? 1 : 0)) > 0
  const unsold = lots.filter(({ id, state }) => state === 'unsold' && !accounts.has(id)).length
  const toBeHad = lots.filter(({ fixedPrice }) => fixedPrice?.is === 'to be had').length
  return {
    currency: campaign.currency,
    causeName: campaign.causeName,
    causeShareBp: campaign.causeShareBp,
    sharesDiffer: lots.some(({ causeShareBp = campaign.causeShareBp }) => causeShareBp !== campaign.causeShareBp),
    lots: { open: count('open', 'held'), sold: lots.filter(isSold).length, unsold, fellThrough, toBeHad },
    ...countProceeds(counted),
  }
}

/** What the meter is made of, lot by lot and pot by pot: added up, the four states of the parts are those of the meter. */
export function partsOfRaised(sight: Sight): RaisedPart[] {
  const lots = listLots(sight)
  const facts = matchFacts(sight, lots)
  return raisedParts(
    facts,
    lots.map(({ id, number, title, unit }, index) => ({ id, number, words: `${unit}, ${title}`, standing: facts.lots[index] })),
  )
}
