import { type Minor, parseMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import type { Actor, Turn } from '#runtime/queue/turn'
import type { BidAnswer } from '../bids/bids.contract'
import { answerOf, type BidRow, findBid } from '../bids/bids.service'
import { loadOpenedLot } from '../bids/lot-state.service'
import { takeBid } from '../bids/take-bid.service'
import { isInEitherOr } from '../either-or/either-or.service'
import { getLotRow } from '../lots/lots.service'
import type { PlaceBidIn } from './bidding.contract'

/** Takes a bid as it was typed, or says why not. The key is the client's: sent again, it has one effect and the same answer. */
export function placeTypedBid(turn: Turn, actor: Actor, { lot, key, maximum }: PlaceBidIn): BidAnswer {
  const opened = loadOpenedLot(turn, lot)
  const { state, row } = opened
  const maximumMinor = parseMoney(maximum, state.terms.currency, 'maximum')
  const before = findBid(turn, key)
  if (before) return repeated(turn, actor, { lot, maximumMinor }, before)
  if (isInEitherOr(turn, actor.personId, row.id))
    throw Refusal.at('maximum', 'This lot is in your either-or. Change its maximum there; you cannot also bid on it directly.', 'conflict')
  return takeBid(turn, actor, { lot, key, maximumMinor }, opened)
}

function repeated(turn: Turn, actor: Actor, offer: { lot: number; maximumMinor: Minor }, before: BidRow): BidAnswer {
  const { lot, maximumMinor } = offer
  const isSame = before.personId === actor.personId && before.maximumMinor === maximumMinor && before.lotId === getLotRow(turn, lot).id
  if (!isSame) throw new Refusal('conflict', 'This form was already sent with a different amount. Reload the page and try again.')
  return answerOf(before)
}
