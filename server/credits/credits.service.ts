import { createHash } from 'node:crypto'
import { findCampaign } from '../campaign/campaign.service'
import { type Credits, creditedNames, creditLine } from '../donors/credit.rules'
import type { ConsentUse } from '../donors/donor.contract'
import { creditables } from '../donors/donor.service'
import { donorsWhoGave } from '../donors/gift.service'
import { Refusal } from '../kernel/refusal'
import { findLot, findLotOfUnit, listPublicLots } from '../lots/lots.service'
import type { Sight } from '../runtime/turn'
import { findUnitByTag } from '../units/roster.service'
import { giftsBehind } from './behind.service'
import type { CampaignCredits, CreditMarks, LotCredits, PageCredits, UnitCredits } from './credits.contract'
import { FOR_ALL, HELPS, thanks, videoDescription } from './credits.rules'

/** Who may be named for a unit and the lot it is sold in, in one use, consents as they stand at this moment. Nothing of it is kept. */
export function creditsOfUnit(sight: Sight, unitId: string, use: ConsentUse): Credits {
  const lot = findLotOfUnit(sight, unitId)
  return creditsOf(sight, unitId, lot?.id ?? null, use)
}

const creditsOf = (sight: Sight, unitId: string, lotId: string | null, use: ConsentUse): Credits =>
  creditedNames(creditables(sight, [...new Set(giftsBehind(sight, unitId, lotId).map(({ donorId }) => donorId))]), use)

/** Everyone whose gift is here, in one use: the list that rolls over the stream, and the page's. */
export const creditsOfCampaign = (sight: Sight, use: ConsentUse): Credits =>
  creditedNames(creditables(sight, donorsWhoGave(sight, HELPS)), use)

const creditsForAll = (sight: Sight, use: ConsentUse): Credits =>
  creditedNames(creditables(sight, donorsWhoGave(sight, HELPS, FOR_ALL)), use)

/** Public: who is named on the page for a unit. */
export function readUnitCredits(sight: Sight, tag: string): UnitCredits {
  const unit = findUnitByTag(sight, tag.toUpperCase())
  if (!unit) throw new Refusal('not-found', `There is no unit ${tag}.`)
  const credits = onPage(creditsOfUnit(sight, unit.id, 'page'))
  return { unit: unit.tag, ...credits, text: `${thanks(credits, unit.tag)}\n` }
}

/** Public: who is named on the page for a lot. A draft is nobody's business yet. */
export function readLotCredits(sight: Sight, number: number): LotCredits {
  const lot = findLot(sight, number)
  if (!lot || lot.state === 'draft') throw new Refusal('not-found', `There is no lot ${number}.`)
  const credits = onPage(creditsOf(sight, lot.unitId, lot.id, 'page'))
  const text = `Lot ${number}, ${lot.title} (${lot.unit}). ${thanks(credits, 'it')}\n`
  return { number: lot.number, title: lot.title, unit: lot.unit, ...credits, text }
}

/** Public: everyone, and by lot; null before there is a campaign. */
export function readCredits(sight: Sight): CampaignCredits | null {
  const campaign = findCampaign(sight)
  if (!campaign) return null
  const all = onPage(creditsOfCampaign(sight, 'page'))
  const forAll = onPage(creditsForAll(sight, 'page'))
  const lots = listPublicLots(sight).map(({ number }) => readLotCredits(sight, number))
  const text = videoDescription(campaign, lots, { all, forAll })
  return { campaign: campaign.name, cause: campaign.causeName, all, forAll, lots, text }
}

/**
 * A mark for whatever is shown of each lot and of all, on the page and on the stream: a screen asks again for names only
 * where its mark has changed. A hash tells nothing of who agreed to the stream alone.
 */
export function readCreditMarks(sight: Sight): CreditMarks {
  const mark = (of: (use: ConsentUse) => Credits) => {
    const shown = (['page', 'stream'] as const).map((use) => {
      const { names, friends } = of(use)
      return [names, friends]
    })
    return createHash('sha256').update(JSON.stringify(shown)).digest('base64url').slice(0, 12)
  }
  const lots = listPublicLots(sight).map(({ id, number, unitId }) => [`lot ${number}`, mark((use) => creditsOf(sight, unitId, id, use))])
  return { at: sight.now, marks: { all: mark((use) => creditsOfCampaign(sight, use)), ...Object.fromEntries(lots) } }
}

const onPage = (credits: Credits): PageCredits => ({
  names: credits.names.map(({ name }) => name),
  friends: credits.friends,
  line: creditLine(credits),
})
