import { getCampaign } from '#people/campaign/campaign.service'
import { findPaddle } from '#people/people/people.service'
import type { Actor, Sight } from '#runtime/queue/turn'
import { readDisclosures } from '../bidders/disclosures.service'
import { TAKE_A_PADDLE, whyBarred } from '../bidders/may-bid.service'
import * as store from '../bids/bids.store'
import type { MyChain } from '../either-or/either-or.contract'
import { isInChain } from '../either-or/either-or.service'
import { listMyChains } from '../either-or/my-either-ors.service'
import { hasAskedRetraction, hasReminder } from '../fairness/fairness.store'
import type { LotState, PublicLotState } from '../lots/lots.contract'
import { getLotRow, getLotRowById, type LotRow, postageOf } from '../lots/lots.service'
import type { BidAnswer, MyBids, MyLot, MySide } from './bidding.contract'

/** A bidder's own side of one lot, for their eyes only. */
export function readMySide(sight: Sight, actor: Actor, number: number): MySide {
  const row = getLotRow(sight, number)
  const paddle = findPaddle(sight, actor.personId)
  const mine = store.findAlias(sight.db, row.id, actor.personId)
  const last = store.lastBidOf(sight.db, row.id, actor.personId)
  const country = paddle?.country ?? ''
  const barred = whyBarred(sight, actor, row, paddle?.country ?? null)
  return {
    alias: mine?.alias ?? null,
    maximumMinor: last?.maximumMinor ?? null,
    leads: row.leaderPersonId === actor.personId,
    isVoided: mine?.voidedAt != null,
    postageMinor: country ? postageOf(sight, row, country) : null,
    country,
    ceilingMinor: paddle?.ceilingMinor ?? 0,
    barred,
    lacksPaddle: barred === TAKE_A_PADDLE,
    isInChain: isInChain(sight, actor.personId, row.id),
    isReminded: hasReminder(sight.db, row.id, actor.personId),
    hasAskedRetraction: hasAskedRetraction(sight.db, row.id, actor.personId),
    disclosed: readDisclosures(sight, actor.personId).filter(({ lot }) => lot === null || lot === number),
  }
}

/** Everything a bidder has said, and the most that it can cost today. */
export function readMyBids(sight: Sight, actor: Actor): MyBids {
  const { currency } = getCampaign(sight)
  const country = findPaddle(sight, actor.personId)?.country ?? ''
  const bids = store.listBidsOfPerson(sight.db, actor.personId)
  const lots = [...new Set(bids.map(({ lotId }) => lotId))].flatMap((lotId): MyLot[] => {
    const row = getLotRowById(sight, lotId)
    const mine = store.findAlias(sight.db, lotId, actor.personId)
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
        leads: row.leaderPersonId === actor.personId,
        isVoided: mine.voidedAt !== null,
        hasWon: row.winnerPersonId === actor.personId,
        isInChain: isInChain(sight, actor.personId, lotId),
        standingMinor: row.standingMinor,
        hammerMinor: row.hammerMinor,
        closesAt: row.closesAt,
        postageMinor,
        mostMinor: mostOf(row, actor.personId, postageMinor ?? 0),
        bids: said.map(({ sequence, at, maximumMinor, answer }) => ({
          sequence,
          at,
          maximumMinor,
          receipt: (JSON.parse(answer) as BidAnswer).receipt,
        })),
      },
    ]
  })
  const chains = listMyChains(sight, actor)
  const chainsMost = chains.reduce((sum, one) => sum + one.mostMinor + postageOfChain(sight, one, country), 0)
  return {
    currency,
    lots: lots.sort((a, b) => (a.closesAt ?? 0) - (b.closesAt ?? 0) || a.number - b.number),
    chains,
    // Lots of an either-or are counted once, with it: its maxima never all come due.
    mostMinor: lots.reduce((sum, { mostMinor, isInChain: counted }) => sum + (counted ? 0 : mostMinor), chainsMost),
  }
}

/** The dearest postage for each lot that an either-or may still win. */
function postageOfChain(sight: Sight, { links, mostWins }: MyChain, country: string): number {
  const open = links.filter(({ phase }) => phase === 'waiting' || phase === 'awake')
  const left = mostWins - links.filter(({ phase }) => phase === 'won').length
  const each = open.map(({ lot }) => postageOf(sight, getLotRow(sight, lot), country) ?? 0)
  return each
    .sort((a, b) => b - a)
    .slice(0, Math.max(0, left))
    .reduce((sum, amount) => sum + amount, 0)
}

/** A maximum while one leads, the hammer price once one has won, otherwise nothing. */
function mostOf(row: LotRow, personId: string, postageMinor: number): number {
  if (row.winnerPersonId === personId) return (row.hammerMinor ?? 0) + postageMinor
  const isRunning = row.state === 'open' || row.state === 'held'
  return isRunning && row.leaderPersonId === personId ? (row.leaderMaximumMinor ?? 0) + postageMinor : 0
}

const isPublic = (state: LotState): state is PublicLotState => state !== 'draft'
