import type { z } from 'zod'
import { groupBy } from '#kernel/group'
import { Refusal } from '#kernel/refusal'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { hasPieces } from '../catalogue/part.rules'
import { getPart, type PartCard, partsById } from '../catalogue/part.service'
import type { HowCounted } from '../donors/count-words.rules'
import type { Restriction } from '../donors/gift.rules'
import { changeGift, getGift, giftsById, noteCounted } from '../donors/gift.service'
import { changeBatch, getBatch, listBatches, moveBatch, noteBatchCounted } from './batch.service'
import type { BatchRow } from './batch.store'
import { everFitted, type FittedPiece, fittedNow } from './fitted.service'
import { goodInHand } from './piece.rules'
import { makePieces, piecesOf, removeUntouched } from './piece.service'
import type { PieceRow } from './piece.store'
import { isBarred, sampledOf } from './rejected.rules'
import { planRows, testRows, waiverRows } from './sampling.store'
import type { badIn, otherPartIn, recountIn, Stock } from './shelf.contract'

/** A batch as it stands now: how many are in units, how many good ones are in hand, who gave it and for what. */
export interface BatchCard extends BatchRow {
  part: PartCard
  fitted: number
  inHand: number
  restriction: Restriction
  donorId: string | null
  /** Whether its number was counted. */
  howCounted: HowCounted
  /** Tagged pieces that are in no unit. */
  loose: PieceRow[]
  /** Which positions of which units hold those that are fitted. */
  fittedAt: FittedPiece[]
  /** Rejected by its own sampling plan, neither sorted to the last piece nor waived: nothing of it goes into a machine. */
  isBarred: boolean
}

/** Everything that is known of these batches, in the order given. */
export function batchCards(sight: Sight, batches: readonly BatchRow[]): BatchCard[] {
  const ids = batches.map((row) => row.id)
  const fittings = groupBy(fittedNow(sight, ids), (row) => row.batchId)
  const pieces = groupBy(piecesOf(sight, ids), (row) => row.batchId)
  const parts = partsById(
    sight,
    batches.map((row) => row.partId),
  )
  const gifts = new Map(
    giftsById(
      sight,
      batches.flatMap((row) => row.giftId ?? []),
    ).map((line) => [line.id, line]),
  )
  const plans = new Map(planRows(sight.db, ids).map((plan) => [plan.batchId, plan]))
  const tests = groupBy(testRows(sight.db, [...plans.keys()]), (test) => test.batchId)
  const waived = new Set(waiverRows(sight.db, ids).map(({ batchId }) => batchId))
  return batches.map((row) => {
    const held = fittings.get(row.id) ?? []
    const inUnits = new Set(held.map((each) => each.pieceId))
    const loose = (pieces.get(row.id) ?? []).filter((piece) => !inUnits.has(piece.id))
    const part = parts.get(row.partId) ?? getPart(sight, row.partId)
    const gift = row.giftId === null ? undefined : gifts.get(row.giftId)
    const inHand = goodInHand({
      quantity: row.quantity,
      bad: row.bad,
      quarantined: row.state === 'quarantined',
      loosePieces: loose.map((piece) => piece.verdict),
      fitted: held.length,
      programmed: part.programmed,
    })
    const restriction = { onlyForUnitId: gift?.onlyForUnitId ?? null, onlyForDesignId: gift?.onlyForDesignId ?? null }
    const sampled = sampledOf(tests.get(row.id) ?? [])
    const untested = row.quantity - held.length - sampled.tested
    const barred = isBarred({ plan: plans.get(row.id), sampled, untested, isWaived: waived.has(row.id) })
    return {
      ...row,
      isBarred: barred,
      part,
      fitted: held.length,
      inHand,
      restriction,
      donorId: gift?.donorId ?? null,
      howCounted: gift?.howCounted ?? row.howCounted,
      loose,
      fittedAt: held,
    }
  })
}

/** The batches of a part, newest first, with what is in hand of each. */
export const batchesFor = (sight: Sight, partId: string): BatchCard[] => batchCards(sight, listBatches(sight, partId))

/** Good pieces of a part in hand, whatever they are kept for. Promised is never counted. */
export const inHand = (sight: Sight, partId: string): number => batchesFor(sight, partId).reduce((sum, row) => sum + row.inHand, 0)

export function stockOf(cards: readonly BatchCard[]): Stock[] {
  return cards
    .filter((card) => card.inHand > 0 && !card.isBarred)
    .map(({ partId, inHand: quantity, restriction }) => ({ partId, quantity, ...restriction }))
}

export const stockNow = (sight: Sight): Stock[] => stockOf(batchCards(sight, listBatches(sight)))

/** A miscount corrected, in the batch and in the gift that it came by, with the reason. */
export function recountBatch(turn: Turn, actor: Actor, { batchId, quantity, reason }: z.output<typeof recountIn>): BatchCard {
  const card = batchCard(turn, batchId)
  if (card.giftId !== null) noteCounted(turn, actor, card.giftId)
  else if (card.howCounted !== 'counted') noteBatchCounted(turn, card)
  if (quantity === card.quantity) return batchCard(turn, batchId)
  const accounted = card.fitted + card.bad
  if (quantity < accounted) {
    throw Refusal.at('quantity', `${card.fitted} are fitted and ${card.bad} were bad, so there are at least ${accounted}. Count again.`)
  }
  if (hasPieces(card.part)) {
    const more = quantity - card.quantity
    const inRecords = everFitted(
      turn,
      card.loose.map((piece) => piece.id),
    )
    const free = card.loose.filter((piece) => !inRecords.has(piece.id))
    if (more > 0) makePieces(turn, batchId, more)
    else if (!removeUntouched(turn, free, -more)) {
      throw Refusal.at('quantity', 'Some of the tags that would go have already been inspected or fitted. Say what became of those pieces.')
    }
  }
  changeBatch(turn, actor, card, 'quantity', { quantity }, reason)
  if (card.giftId !== null) changeGift(turn, actor, getGift(turn, card.giftId), 'quantity', { quantity }, reason)
  return batchCard(turn, batchId)
}

/** What lies in a batch turned out to be another part of the same kind, or was logged as one with it. Not once machines name it. */
export function isOtherPart(turn: Turn, _actor: Actor, { batchId, partId, reason }: z.output<typeof otherPartIn>): BatchCard {
  const card = batchCard(turn, batchId)
  const part = getPart(turn, partId)
  if (part.id === card.partId) throw Refusal.at('partId', `${card.code} is logged as that part already. Choose another.`)
  if (part.kind !== card.part.kind) throw Refusal.at('partId', `${card.code} is a ${card.part.kind}. Choose a ${card.part.kind}.`)
  if (hasPieces(card.part) || hasPieces(part)) throw Refusal.at('partId', 'Its pieces have tags. Say of each piece what it is.')
  if (card.fitted > 0) {
    throw Refusal.at(
      'batchId',
      `${card.fitted} of ${card.code} are fitted, and the records of their machines name the part. Take them out first.`,
      'conflict',
    )
  }
  moveBatch(turn, card, partId, reason)
  return batchCard(turn, batchId)
}

/** How many of a batch were found bad, in all, without a tag of their own. */
export function markBad(turn: Turn, actor: Actor, { batchId, bad, reason }: z.output<typeof badIn>): BatchCard {
  const card = batchCard(turn, batchId)
  if (bad > card.quantity - card.fitted) {
    throw Refusal.at('bad', `Of ${card.quantity}, ${card.fitted} are fitted: at most ${card.quantity - card.fitted} in hand can be bad.`)
  }
  if (bad !== card.bad) changeBatch(turn, actor, card, 'bad', { bad }, reason)
  return batchCard(turn, batchId)
}

export function batchCard(sight: Sight, batchId: string): BatchCard {
  const [card] = batchCards(sight, [getBatch(sight, batchId)])
  if (!card) throw new Refusal('not-found', 'There is no such batch.')
  return card
}
