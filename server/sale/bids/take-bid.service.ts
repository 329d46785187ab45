import { bytesToHex } from '@noble/hashes/utils.js'
import type { Instant } from '#kernel/instant'
import { invariant } from '#kernel/invariant'
import type { Minor } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { findPaddle } from '#people/people/people.service'
import type { Turn } from '#runtime/queue/turn'
import { type WhoBids, whyBarred } from '../bidders/may-bid.service'
import type { BidAnswer, Receipt } from '../bidding/bidding.contract'
import { aliasFrom, NONCE_BYTES } from '../history/ledger.rules'
import { reserveOf } from '../price/price.rules'
import * as store from './bids.store'
import { act, type Done } from './lot-command.service'
import { loadSale } from './lot-state.service'

export interface Offer {
  lot: number
  key: string
  maximumMinor: Minor
  /** When it arrived; the turn's own instant unless a maximum wakes at the close of another lot. */
  at?: Instant
}

/** Takes a bid, whoever sends it, or says why not; nothing is written before it is taken. */
export function takeBid(turn: Turn, who: WhoBids, { lot, key, maximumMinor, at = turn.now }: Offer): BidAnswer {
  const sale = loadSale(turn, lot)
  const { personId } = who
  const paddle = findPaddle(turn, personId)
  const mine = store.findAlias(turn.db, sale.row.id, personId)
  const barred = whyBarred(turn, who, sale.row, paddle?.country ?? null, mine)
  if (barred || !paddle) throw Refusal.at('maximum', barred ?? 'Take a paddle first.', 'not-yours-to-do')
  const alias = mine?.alias ?? drawAlias(turn, sale.row.id)
  const sequence = sale.row.sequence + 1
  const nonce = bytesToHex(turn.dice.bytes(NONCE_BYTES))
  const command = { kind: 'bid', bidder: alias, maximumMinor, ceilingMinor: paddle.ceilingMinor, sequence } as const
  const leads = sale.state.leader?.bidder === alias || maximumMinor > (sale.state.leader?.maximumMinor ?? 0)
  const done = act(turn, sale, { command, by: 'rule', at, nonce, ...(leads && { leaderPersonId: personId }) })
  if (!mine) store.insertAlias(turn.db, { lotId: sale.row.id, personId, alias })
  const answer = answerOf(done, { lot, alias, sequence, amountMinor: maximumMinor, nonce })
  const row = { id: key, lotId: sale.row.id, sequence, personId, alias, maximumMinor, at, nonce, answer: JSON.stringify(answer) }
  store.insertBid(turn.db, row)
  return answer
}

/** The alias under which a person will bid on a lot: random, and another one on each. */
function drawAlias(turn: Turn, lotId: string): string {
  const taken = new Set(store.listAliases(turn.db, lotId).map(({ alias }) => alias))
  return aliasFrom(turn.dice.bytes(16), taken)
}

function answerOf({ row, state, appended }: Done, opening: Receipt['opening']): BidAnswer {
  const { index, size, path, checkpoint, leaves } = appended
  const leaf = leaves[0]
  invariant(leaf?.kind === 'bid' && row.standingMinor !== null && row.closesAt !== null, 'a bid that was taken stands in the ledger')
  return {
    lot: row.number,
    alias: opening.alias,
    maximumMinor: opening.amountMinor,
    leads: state.leader?.bidder === opening.alias,
    standingMinor: row.standingMinor,
    reserve: reserveOf(state.terms, state.leader),
    closesAt: row.closesAt,
    receipt: { leaf, index, size, path, checkpoint, opening },
  }
}
