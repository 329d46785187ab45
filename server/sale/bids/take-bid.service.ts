import type { Instant } from '#kernel/instant'
import { invariant } from '#kernel/invariant'
import type { Minor } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { findBiddingPaddle } from '#people/people/people.service'
import type { Turn } from '#runtime/queue/turn'
import { drawAlias, findAlias, giveAlias } from '../bidders/aliases.service'
import { type WhoBids, whyBarred } from '../bidders/may-bid.service'
import type { Receipt } from '../history/history.contract'
import { NONCE_BYTES } from '../history/ledger.rules'
import { tellOfOutbid } from '../letters/letters.service'
import { reserveOf, wouldLead } from '../price/price.rules'
import type { BidAnswer } from './bids.contract'
import { insertBid } from './bids.service'
import { type AppliedCommand, applyCommand } from './lot-command.service'
import { loadOpenedLot, noteArrival, nthLastArrival } from './lot-state.service'
import { MOST_IN_A_MINUTE, whyTooOften } from './too-often.rules'

export interface Offer {
  lot: number
  key: string
  maximumMinor: Minor
  /** When it arrived; the turn's own instant unless a maximum wakes at the close of another lot. */
  at?: Instant
}

/** Takes a bid, whoever sends it, or says why not; nothing is written before it is taken. */
export function takeBid(turn: Turn, who: WhoBids, offer: Offer, lot = loadOpenedLot(turn, offer.lot)): BidAnswer {
  const { lot: number, key, maximumMinor, at = turn.now } = offer
  const { personId } = who
  const paddle = findBiddingPaddle(turn, personId)
  const mine = findAlias(turn, lot.row.id, personId)
  const barred = whyBarred(turn, who, lot.row, paddle?.country ?? null, mine)
  if (barred || !paddle) throw Refusal.at('maximum', barred ?? 'Take a paddle first.', 'not-yours-to-do')
  const tooOften = mine && whyTooOften(nthLastArrival(turn, lot, personId, MOST_IN_A_MINUTE), at)
  if (tooOften) throw Refusal.at('maximum', tooOften, 'too-many')
  const alias = mine?.alias ?? drawAlias(turn, lot.row.id)
  const sequence = lot.row.sequence + 1
  const nonce = Buffer.from(turn.dice.bytes(NONCE_BYTES)).toString('hex')
  const command = { kind: 'bid', bidder: alias, maximumMinor, ceilingMinor: paddle.ceilingMinor, sequence } as const
  const leads = wouldLead(lot.state, { bidder: alias, maximumMinor })
  const applied = applyCommand(turn, lot, { command, by: 'rule', at, nonce, ...(leads && { leaderPersonId: personId }) })
  if (!mine) giveAlias(turn, { lotId: lot.row.id, personId, alias })
  const { leaderPersonId: outbid } = lot.row
  if (leads && outbid !== null && outbid !== personId) tellOfOutbid(turn, lot.row, outbid)
  const answer = answerOf(applied, { lot: number, alias, sequence, amountMinor: maximumMinor, nonce })
  insertBid(turn, { id: key, lotId: lot.row.id, lot: number, sequence, personId, alias, maximumMinor, at, nonce }, answer)
  noteArrival(turn, lot, personId, at, MOST_IN_A_MINUTE)
  return answer
}

function answerOf({ row, state, appended }: AppliedCommand, opening: Receipt['opening']): BidAnswer {
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
