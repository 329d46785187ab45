import { type Minor, parseMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import type { Actor, Turn } from '#runtime/queue/turn'
import * as store from '../bids/bids.store'
import { loadSale } from '../bids/lot-state.service'
import { takeBid } from '../bids/take-bid.service'
import { closeDueLots } from '../closings/close-due.service'
import { isInChain } from '../either-or/either-or.service'
import { getLotRow } from '../lots/lots.service'
import type { BidAnswer, PlaceBidIn } from './bidding.contract'

/** Takes a bid as it was typed, or says why not. The key is the client's: sent again, it has one effect and the same answer. */
export function placeTypedBid(turn: Turn, actor: Actor, { lot, key, maximum }: PlaceBidIn): BidAnswer {
  closeDueLots(turn)
  const { state, row } = loadSale(turn, lot)
  const maximumMinor = parseMoney(maximum, state.terms.currency, 'maximum')
  const before = store.findBid(turn.db, key)
  if (before) return repeated(turn, actor, { lot, maximumMinor }, before)
  if (isInChain(turn, actor.personId, row.id))
    throw Refusal.at(
      'maximum',
      'This lot stands in your either-or. Change its maximum there; a direct bid beside it is not taken.',
      'conflict',
    )
  return takeBid(turn, actor, { lot, key, maximumMinor })
}

function repeated(turn: Turn, actor: Actor, offer: { lot: number; maximumMinor: Minor }, before: store.BidRow): BidAnswer {
  const { lot, maximumMinor } = offer
  const isSame = before.personId === actor.personId && before.maximumMinor === maximumMinor && before.lotId === getLotRow(turn, lot).id
  if (!isSame) throw new Refusal('conflict', 'This form was already sent with another amount. Reload the page and try again.')
  return JSON.parse(before.answer) as BidAnswer
}
