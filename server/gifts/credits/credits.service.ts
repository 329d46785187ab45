import { createHash } from 'node:crypto'
import { findUnitByTag } from '#bench/units/roster.service'
import { Refusal } from '#kernel/refusal'
import { findCampaign } from '#people/campaign/campaign.service'
import { hasEarlier } from '#people/campaign/which.service'
import type { Sight } from '#runtime/queue/turn'
import { findLot, findLotOfUnit, listLots, listPublicLots } from '#sale/lots/lots.service'
import { type Credits, creditedNames, creditLine } from '#stock/donors/credit.rules'
import type { ConsentUse } from '#stock/donors/donor.contract'
import { creditables } from '#stock/donors/donor.service'
import { donorsWhoGave } from '#stock/donors/gift.service'
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

/**
 * Everyone whose gift came in the time of the campaign, or is in one of its machines though it came in an earlier one, in one use: the
 * list that rolls over the stream, and the page's.
 */
export function creditsOfCampaign(sight: Sight, use: ConsentUse): Credits {
  const before = hasEarlier(sight) ? listLots(sight).flatMap(({ id, unitId }) => giftsBehind(sight, unitId, id)) : []
  return creditedNames(creditables(sight, [...new Set([...donorsWhoGave(sight, HELPS), ...before.map(({ donorId }) => donorId)])]), use)
}

const creditsForAll = (sight: Sight, use: ConsentUse): Credits =>
  creditedNames(creditables(sight, donorsWhoGave(sight, HELPS, FOR_ALL)), use)

/** Public: who is named on the page for a unit. */
export function readUnitCredits(sight: Sight, tag: string): UnitCredits {
  const unit = findUnitByTag(sight, tag.toUpperCase())
  if (!unit) throw new Refusal('not-found', `There is no unit ${tag}.`)
  const lot = findLotOfUnit(sight, unit.id)
  const found = creditsOf(sight, unit.id, lot?.id ?? null, 'page')
  const credits = onPage(found)
  const text = `${thanks(credits, unit.tag)}\n`
  // A unit that is in no lot yet changes with all the rest: then it is asked for again once too often, and never too seldom.
  const isShown = lot !== null && lot.state !== 'draft'
  const live = isShown
    ? { key: lotKey('page', lot.number), mark: markOf(found) }
    : { key: 'page all', mark: markOf(creditsOfCampaign(sight, 'page')) }
  return { unit: unit.tag, ...credits, text, live }
}

/** Public: who is named on the page for a lot. A draft is nobody's business yet. */
export function readLotCredits(sight: Sight, number: number): LotCredits {
  const lot = findLot(sight, number)
  if (!lot || lot.state === 'draft') throw new Refusal('not-found', `There is no lot ${number}.`)
  const found = creditsOf(sight, lot.unitId, lot.id, 'page')
  const credits = onPage(found)
  const text = `Lot ${number}, ${lot.title} (${lot.unit}). ${thanks(credits, 'it')}\n`
  const live = { key: lotKey('page', number), mark: markOf(found) }
  return { number: lot.number, title: lot.title, unit: lot.unit, ...credits, text, live }
}

/** Public: everyone, and by lot; null before there is a campaign. */
export function readCredits(sight: Sight): CampaignCredits | null {
  const campaign = findCampaign(sight)
  if (!campaign) return null
  const everyone = creditsOfCampaign(sight, 'page')
  const all = onPage(everyone)
  const forAll = onPage(creditsForAll(sight, 'page'))
  const lots = listPublicLots(sight).map(({ number }) => readLotCredits(sight, number))
  const text = videoDescription(campaign, lots, { all, forAll })
  const live = { key: 'page all', mark: markOf(everyone) }
  return { campaign: campaign.name, cause: campaign.causeName, all, forAll, lots, text, live }
}

const lotKey = (use: 'page' | 'stream', number: number): string => `${use} lot ${number}`

/** A hash of the names tells whether they changed, and nothing of who they are. */
const markOf = ({ names, friends }: Credits): string =>
  createHash('sha256')
    .update(JSON.stringify([names, friends]))
    .digest('base64url')
    .slice(0, 12)

/** A mark for whatever is shown of each lot and of all, on the page and on the stream: a screen asks again only where its own has changed. */
export function readCreditMarks(sight: Sight): CreditMarks {
  const lots = listPublicLots(sight)
  const marks = (['page', 'stream'] as const).flatMap((use) => [
    [`${use} all`, markOf(creditsOfCampaign(sight, use))],
    ...lots.map(({ id, number, unitId }) => [lotKey(use, number), markOf(creditsOf(sight, unitId, id, use))]),
  ])
  return { at: sight.now, marks: Object.fromEntries(marks) }
}

const onPage = (credits: Credits): PageCredits => ({
  names: credits.names.map(({ name }) => name),
  friends: credits.friends,
  line: creditLine(credits),
})
