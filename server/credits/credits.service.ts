import { findCampaign } from '../campaign/campaign.service'
import { type Credits, creditedNames, creditLine } from '../donors/credit.rules'
import type { ConsentUse } from '../donors/donor.contract'
import { creditables } from '../donors/donor.service'
import { giftsById, listGifts } from '../donors/gift.service'
import { Refusal } from '../kernel/refusal'
import { findLot, listPublicLots } from '../lots/lots.service'
import { batchesById } from '../parts/batch.service'
import type { Sight } from '../runtime/turn'
import { madeOf } from '../units/holdings.service'
import { findUnitByTag } from '../units/roster.service'
import type { CampaignCredits, LotCredits, PageCredits } from './credits.contract'
import { donorsBehind, donorsOfAll, videoDescription } from './credits.rules'

/** Who may be named for a unit in one use, consents as they stand at this moment. Nothing of it is kept. */
export function creditsOfUnit(sight: Sight, unitId: string, use: ConsentUse): Credits {
  const { designId, batchIds } = madeOf(sight, unitId)
  const giftIds = batchesById(sight, batchIds).flatMap(({ giftId }) => giftId ?? [])
  const donorIds = donorsBehind({ id: unitId, designId }, giftsById(sight, giftIds), listGifts(sight))
  return creditedNames(creditables(sight, donorIds), use)
}

/** Everyone whose gift is here, in one use. */
export const creditsOfCampaign = (sight: Sight, use: ConsentUse): Credits =>
  creditedNames(creditables(sight, donorsOfAll(listGifts(sight))), use)

/** Public: who is named on the page for a unit. */
export function readUnitCredits(sight: Sight, tag: string): PageCredits {
  const unit = findUnitByTag(sight, tag.toUpperCase())
  if (!unit) throw new Refusal('not-found', `There is no unit ${tag}.`)
  return onPage(creditsOfUnit(sight, unit.id, 'page'))
}

/** Public: who is named on the page for a lot. A draft is nobody's business yet. */
export function readLotCredits(sight: Sight, number: number): LotCredits {
  const lot = findLot(sight, number)
  if (!lot || lot.state === 'draft') throw new Refusal('not-found', `There is no lot ${number}.`)
  return { number: lot.number, title: lot.title, unit: lot.unit, ...onPage(creditsOfUnit(sight, lot.unitId, 'page')) }
}

/** Public: everyone, and by lot; null before there is a campaign. */
export function readCredits(sight: Sight): CampaignCredits | null {
  const campaign = findCampaign(sight)
  if (!campaign) return null
  const all = onPage(creditsOfCampaign(sight, 'page'))
  const lots = listPublicLots(sight).map(({ number }) => readLotCredits(sight, number))
  return { all, lots, text: videoDescription(campaign, lots, all) }
}

const onPage = (credits: Credits): PageCredits => ({
  names: credits.names.map(({ name }) => name),
  friends: credits.friends,
  line: creditLine(credits),
})
