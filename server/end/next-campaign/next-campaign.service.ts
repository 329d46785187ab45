import { listDesigns } from '#bench/designs/designs.service'
import { listInstruments } from '#bench/units/instruments.service'
import { listPublicCards } from '#floor/lot-page/lot-page.service'
import { readCredits } from '#gifts/credits/credits.service'
import { civilOf } from '#kernel/civil'
import { Refusal } from '#kernel/refusal'
import { carryPaymentTerms } from '#money/invoices/invoices.service'
import { listSoldLots } from '#money/journal/sold.service'
import { proceeds } from '#money/proceeds/proceeds.service'
import { carrySendingTerms } from '#money/sending/bands.service'
import { hasArrived } from '#money/sending/sent.service'
import { findCampaign, followCampaign, getCampaign } from '#people/campaign/campaign.service'
import { findEarlier, inCampaign, listCampaigns, presentNumber } from '#people/campaign/which.service'
import { listBidders, listStaff } from '#people/people/people.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { lotsFrame } from '#sale/bidding/frames.service'
import { listStandingPrices } from '#sale/fixed-price/shown-price.service'
import { carryLadder } from '#sale/lots/ladder.service'
import { getLotRow, getLotRowById, listLots, listReadyRows } from '#sale/lots/lots.service'
import { nameLots } from '#sale/lots/name-lots.rules'
import { listStartable, takeAlong } from '#sale/lots/prepare.service'
import { dropWishes } from '#sale/planning/planning.service'
import { leaveDay } from '#sale/programme/programme.service'
import { listDonors } from '#stock/donors/donor.service'
import { listBatches } from '#stock/shelf/batch.service'
import { batchCards } from '#stock/shelf/stock.service'
import { carryTerm } from '../deletion/term.service'
import type { BeginNextIn, CampaignLine, EarlierView, NextView } from './next-campaign.contract'
import { slugOf } from './slug.rules'

/** What stands in the way of the next campaign, in words. */
function inTheWay(sight: Sight): string[] {
  const running = listLots(sight).filter(({ state }) => state === 'open' || state === 'held')
  const standing = listStandingPrices(sight).map(({ lotId }) => getLotRowById(sight, lotId).number)
  const is = (lots: readonly unknown[]) => (lots.length === 1 ? 'is' : 'are')
  return [
    running.length > 0 &&
      `${nameLots(running.map(({ number }) => number))} ${is(running)} still open. The next campaign can begin once ${running.length === 1 ? 'it has' : 'they have'} ended.`,
    standing.length > 0 &&
      `${nameLots(standing.toSorted((a, b) => a - b))} can still be had at a fixed price. Wait until somebody says yes, or take the price back first.`,
  ].filter((words) => words !== false)
}

/** What the next campaign would begin with; null before there is a first one. */
export function readNext(sight: Sight): NextView | null {
  const campaign = findCampaign(sight)
  if (!campaign) return null
  const lots = listLots(sight)
  const ready = new Set(listReadyRows(sight).map(({ number }) => number))
  const inReady = new Set(lots.flatMap(({ number, unit }) => (ready.has(number) ? [unit] : [])))
  return {
    ends: campaign.number,
    slug: slugOf(campaign.name, Number(civilOf(campaign.streamOpensAt, campaign.zone).slice(0, 4))),
    inTheWay: inTheWay(sight),
    drafts: lots.filter(({ number }) => ready.has(number)).map(({ number, title }) => ({ number, title })),
    machines: listStartable(sight).filter((tag) => !inReady.has(tag)),
    designs: listDesigns(sight).length,
    instruments: listInstruments(sight).length,
    batches: batchCards(sight, listBatches(sight)).filter(({ inHand }) => inHand > 0).length,
    staff: listStaff(sight).length,
    donors: listDonors(sight).filter(({ contact, mergedIntoId }) => contact !== '' && mergedIntoId === null).length,
    bidders: listBidders(sight).length,
  }
}

/**
 * Ends the present campaign and begins the next in the same house. Designs, instruments, parts, machines that nobody has and the staff
 * are the house's own and stay as they are; lots that were never open go along; terms, postage and the ladder begin as they were.
 */
export function beginNext(turn: Turn, actor: Actor, { slug, ends, ...form }: BeginNextIn): { slug: string } {
  const before = getCampaign(turn)
  if (before.endedAt !== null) throw new Refusal('conflict', 'You are at work in an earlier campaign. Go back to the present one first.')
  if (before.number !== ends)
    throw new Refusal('conflict', `The next campaign has begun already: ${before.name}. Reload the page to see it.`)
  const [obstacle] = inTheWay(turn)
  if (obstacle !== undefined) throw Refusal.at('slug', obstacle, 'too-early')
  if (findEarlier(turn, slug)) throw Refusal.at('slug', 'An earlier campaign is called that already. Choose another.', 'conflict')
  const going = listReadyRows(turn)
  const number = followCampaign(turn, form, slug, actor)
  const ids = going.map(({ id }) => id)
  leaveDay(turn, ids)
  dropWishes(turn, ids)
  takeAlong(turn, going, number)
  for (const carry of [carryLadder, carryPaymentTerms, carrySendingTerms, carryTerm]) carry(turn, before.number, number)
  return { slug }
}

/** Every campaign of the house, the present one first. */
export function listLines(sight: Sight): CampaignLine[] {
  const here = sight.campaign ?? presentNumber(sight)
  return listCampaigns(sight).map(({ name, slug, streamOpensAt, zone, endedAt, number }) => ({
    name,
    slug,
    streamOpensAt,
    zone,
    endedAt,
    ...(endedAt === null ? { unpaid: 0, notArrived: 0 } : leftToDo(inCampaign(sight, number))),
    isHere: number === here,
  }))
}

function leftToDo(sight: Sight): { unpaid: number; notArrived: number } {
  const sold = listSoldLots(sight).filter(({ buyerPersonId, state }) => buyerPersonId !== null && state !== 'fell through')
  return {
    unpaid: sold.filter(({ owedMinor }) => owedMinor > 0).length,
    notArrived: sold.filter(({ number }) => !hasArrived(sight, getLotRow(sight, number).id)).length,
  }
}

/** The campaign that is looked at, for anybody, where it is an earlier one; null where it is the present one. */
export function readEarlier(sight: Sight): EarlierView | null {
  const found = findCampaign(sight)
  if (!found || found.endedAt === null) return null
  const { name, causeName, causeShareBp, sellerName, streamOpensAt, streamClosesAt, endedAt, zone } = found
  return {
    ...{ name, causeName, causeShareBp, sellerName, streamOpensAt, streamClosesAt, endedAt, zone },
    meter: proceeds(sight),
    cards: listPublicCards(sight),
    frames: lotsFrame(sight).lots,
    credits: readCredits(sight),
    present: findCampaign(inCampaign(sight, presentNumber(sight)))?.name ?? '',
  }
}
