import { getCampaign } from '#people/campaign/campaign.service'
import { findBiddingPaddle } from '#people/people/people.service'
import type { Actor, Sight } from '#runtime/queue/turn'
import { findAlias } from '../bidders/aliases.service'
import { readDisclosures } from '../bidders/disclosures.service'
import { TAKE_A_PADDLE, whyBarred } from '../bidders/may-bid.service'
import { hasAskedRetraction } from '../bidders/retractions.service'
import { answerOf, type BidRow, findLastBid, listBidsOfPerson } from '../bids/bids.service'
import type { MyEitherOr } from '../either-or/either-or.contract'
import { isInEitherOr } from '../either-or/either-or.service'
import { listMyEitherOrs } from '../either-or/my-either-ors.service'
import { hasReminder } from '../letters/reminders.service'
import type { LotState, PublicLotState } from '../lots/lots.contract'
import { getLotRow, getLotRowById, isLeader, type LotRow, postageOf } from '../lots/lots.service'
import { getShownRow } from '../lots/shown-lot.service'
import type { MyBids, MyLot, MySide } from './bidding.contract'

/** A bidder's own side of one lot, for their eyes only. */
export function readMySide(sight: Sight, actor: Actor, number: number): MySide {
  const row = getShownRow(sight, number)
  const paddle = findBiddingPaddle(sight, actor.personId)
  const mine = findAlias(sight, row.id, actor.personId)
  const last = findLastBid(sight, row.id, actor.personId)
  const country = paddle?.country ?? ''
  const barred = whyBarred(sight, actor, row, paddle?.country ?? null)
  return {
    alias: mine?.alias ?? null,
    maximumMinor: last?.maximumMinor ?? null,
    leads: isLeader(row, actor.personId),
    isVoided: mine?.voidedAt != null,
    postageMinor: country ? postageOf(sight, row, country) : null,
    country,
    ceilingMinor: paddle?.ceilingMinor ?? 0,
    barred,
    lacksPaddle: barred === TAKE_A_PADDLE,
    isInEitherOr: isInEitherOr(sight, actor.personId, row.id),
    isReminded: hasReminder(sight, row.id, actor.personId),
    hasAskedRetraction: hasAskedRetraction(sight, row.id, actor.personId),
    disclosed: readDisclosures(sight, actor.personId).filter(({ lot }) => lot === null || lot === number),
  }
}

/** Everything a bidder has said, and the most that it can cost today. */
export function readMyBids(sight: Sight, actor: Actor): MyBids {
  const { currency } = getCampaign(sight)
  const country = findBiddingPaddle(sight, actor.personId)?.country ?? ''
  const bids = listBidsOfPerson(sight, actor.personId)
  const lots = [...new Set(bids.map(({ lotId }) => lotId))].flatMap((lotId): MyLot[] => {
    const row = getLotRowById(sight, lotId)
    const mine = findAlias(sight, lotId, actor.personId)
    if (!mine || !isPublic(row.state)) return []
    const said = bids.filter((one) => one.lotId === lotId)
    const postageMinor = country ? postageOf(sight, row, country) : null
    return [
      {
        number: row.number,
        title: row.terms?.sale.title ?? row.title,
        unit: row.unitTag,
        state: row.state,
        currency,
        alias: mine.alias,
        leads: isLeader(row, actor.personId),
        isVoided: mine.voidedAt !== null,
        hasWon: row.winnerPersonId === actor.personId,
        isInEitherOr: isInEitherOr(sight, actor.personId, lotId),
        standingMinor: row.standingMinor,
        hammerMinor: row.hammerMinor,
        closesAt: row.closesAt,
        postageMinor,
        mostMinor: mostOf(row, said, actor.personId, postageMinor ?? 0),
        bids: said.map((bid) => ({ sequence: bid.sequence, at: bid.at, maximumMinor: bid.maximumMinor, receipt: answerOf(bid).receipt })),
      },
    ]
  })
  const eitherOrs = listMyEitherOrs(sight, actor)
  const eitherOrsMost = eitherOrs.reduce((sum, one) => sum + one.mostMinor + postageOfEitherOr(sight, one, country), 0)
  return {
    currency,
    lots: lots.sort((a, b) => (a.closesAt ?? 0) - (b.closesAt ?? 0) || a.number - b.number),
    eitherOrs,
    // Lots of an either-or are counted once, with it: its maxima never all come due.
    mostMinor: lots.reduce((sum, { mostMinor, isInEitherOr: counted }) => sum + (counted ? 0 : mostMinor), eitherOrsMost),
  }
}

/** The dearest postage for each lot that an either-or may still win. */
function postageOfEitherOr(sight: Sight, { links, mostWins }: MyEitherOr, country: string): number {
  const open = links.filter(({ phase }) => phase === 'waiting' || phase === 'awake')
  const left = mostWins - links.filter(({ phase }) => phase === 'won').length
  const each = open.map(({ lot }) => postageOf(sight, getLotRow(sight, lot), country) ?? 0)
  return each
    .sort((a, b) => b - a)
    .slice(0, Math.max(0, left))
    .reduce((sum, amount) => sum + amount, 0)
}

/** A maximum while one leads, the hammer price once one has won, otherwise nothing. */
function mostOf(row: LotRow, said: readonly BidRow[], personId: string, postageMinor: number): number {
  if (row.winnerPersonId === personId) return (row.hammerMinor ?? 0) + postageMinor
  const isRunning = row.state === 'open' || row.state === 'held'
  if (!isRunning || !isLeader(row, personId)) return 0
  return (said.find(({ sequence }) => sequence === row.leaderSequence)?.maximumMinor ?? 0) + postageMinor
}

const isPublic = (state: LotState): state is PublicLotState => state !== 'draft'
