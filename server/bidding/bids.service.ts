import { bytesToHex } from '@noble/hashes/utils.js'
import { invariant } from '../kernel/invariant'
import { type Minor, parseMoney } from '../kernel/money'
import { Refusal } from '../kernel/refusal'
import { getLotRow, type LotRow } from '../lots/lots.service'
import { postageTo } from '../lots/postage.rules'
import { findPaddle } from '../people/people.service'
import type { Actor, Sight, Turn } from '../runtime/turn'
import { listTesters } from '../units/roster.service'
import type { BidAnswer, PlaceBidIn, Receipt } from './bidding.contract'
import * as store from './bidding.store'
import { aliasFrom, NONCE_BYTES } from './ledger.rules'
import { reserveOf } from './price.rules'
import { act, loadSale, type Sale } from './sale.service'

export interface Offer {
  lot: number
  key: string
  maximumMinor: Minor
}

/** The same as `placeBid`, with the amount as it was typed. */
export function placeTypedBid(turn: Turn, actor: Actor, { lot, key, maximum }: PlaceBidIn): BidAnswer {
  const { terms } = loadSale(turn, lot)
  return placeBid(turn, actor, { lot, key, maximumMinor: parseMoney(maximum, terms.currency, 'maximum') })
}

/** Takes a bid or says why not. The key is the client's: sent again, it has one effect and the same answer. */
export function placeBid(turn: Turn, actor: Actor, offer: Offer): BidAnswer {
  const before = store.findBid(turn.db, offer.key)
  if (before) return repeated(turn, actor, offer, before)
  const sale = loadSale(turn, offer.lot)
  const paddle = findPaddle(turn, actor.personId)
  const barred = whyBarred(turn, actor, sale.row, paddle?.country ?? null)
  if (barred || !paddle) throw Refusal.at('maximum', barred ?? 'Take a paddle first.', 'not-yours-to-do')
  const alias = aliasOf(turn, sale.row.id, actor.personId)
  const sequence = sale.row.sequence + 1
  const { maximumMinor, key } = offer
  const nonce = bytesToHex(turn.dice.bytes(NONCE_BYTES))
  const command = { kind: 'bid', bidder: alias, maximumMinor, ceilingMinor: paddle.ceilingMinor, sequence } as const
  const leads = sale.state.leader?.bidder === alias || maximumMinor > (sale.state.leader?.maximumMinor ?? 0)
  const done = act(turn, sale, { command, by: 'rule', nonce, ...(leads && { leaderPersonId: actor.personId }) })
  const answer = answerOf(sale, done, { lot: offer.lot, alias, sequence, amountMinor: maximumMinor, nonce })
  store.insertBid(turn.db, {
    id: key,
    lotId: sale.row.id,
    sequence,
    personId: actor.personId,
    alias,
    maximumMinor,
    at: turn.now,
    nonce,
    answer: JSON.stringify(answer),
  })
  return answer
}

export const TAKE_A_PADDLE = 'Take a paddle first: confirm your address, say where it would go and accept the rules.'

/** Why a person may not bid on a lot, in words; null when they may. Amount and clock are looked at elsewhere. */
export function whyBarred(sight: Sight, actor: Actor, row: LotRow, country: string | null): string | null {
  if (actor.role !== 'bidder') return 'The staff of this sale cannot bid in it.'
  if (row.pricedByPersonId === actor.personId) return 'You priced this lot, so you cannot bid on it.'
  if (listTesters(sight, row.unitId).includes(actor.personId)) return 'You tested this machine, so you cannot bid on it.'
  if (country === null) return TAKE_A_PADDLE
  if (!postageTo(row.terms?.sale.postage ?? [], country))
    return 'This lot is not sent to the country of your paddle. Change the country, or ask the house.'
  if (store.findAlias(sight.db, row.id, actor.personId)?.voidedAt)
    return 'Your bids on this lot were voided by the house. Write to it if that is wrong.'
  return null
}

/** The alias under which a person bids on a lot, drawn at the first bid. */
function aliasOf(turn: Turn, lotId: string, personId: string): string {
  const found = store.findAlias(turn.db, lotId, personId)
  if (found) return found.alias
  const taken = new Set(store.listAliases(turn.db, lotId).map(({ alias }) => alias))
  const alias = aliasFrom(turn.dice.bytes(16), taken)
  store.insertAlias(turn.db, { lotId, personId, alias })
  return alias
}

function repeated(turn: Turn, actor: Actor, { lot, maximumMinor }: Offer, before: store.BidRow): BidAnswer {
  const isSame = before.personId === actor.personId && before.maximumMinor === maximumMinor && before.lotId === getLotRow(turn, lot).id
  if (!isSame) throw new Refusal('conflict', 'This form was already sent with another amount. Reload the page and try again.')
  return JSON.parse(before.answer) as BidAnswer
}

function answerOf({ terms }: Sale, { row, state, appended }: ReturnType<typeof act>, opening: Receipt['opening']): BidAnswer {
  const { index, size, path, checkpoint, leaves } = appended
  const leaf = leaves[0]
  invariant(leaf?.kind === 'bid' && row.standingMinor !== null && row.closesAt !== null, 'a bid that was taken stands in the ledger')
  return {
    lot: row.number,
    alias: opening.alias,
    maximumMinor: opening.amountMinor,
    leads: state.leader?.bidder === opening.alias,
    standingMinor: row.standingMinor,
    reserve: reserveOf(terms, state.leader),
    closesAt: row.closesAt,
    receipt: { leaf, index, size, path, checkpoint, opening },
  }
}
