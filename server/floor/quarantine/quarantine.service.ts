import type { z } from 'zod'
import { currentCertificate, withdrawForChange } from '#bench/certificates/standing.service'
import { blocksOf, loadUnit } from '#bench/units/unit-state.service'
import { setAsideUnitsHolding } from '#bench/units/units.service'
import { Refusal } from '#kernel/refusal'
import { listSoldLots } from '#money/journal/sold.service'
import { findPerson } from '#people/people/people.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { holdLotOfUnit } from '#sale/closings/holds.service'
import { findLotOfUnit } from '#sale/lots/lots.service'
import type { GiftState } from '#stock/donors/donor.contract'
import { movesFrom } from '#stock/donors/gift.rules'
import { changeGift, getGift } from '#stock/donors/gift.service'
import { changeBatch } from '#stock/shelf/batch.service'
import { type BatchCard, batchCard } from '#stock/shelf/stock.service'
import { listWhomToTell, listWhomToTellAgain } from './notices.service'
import type { quarantineIn } from './quarantine.contract'

/** One unit that holds pieces of the batch, and what hangs on it. */
export interface Touched {
  unitId: string
  tag: string
  pieces: number
  certificate: string | null
  lot: { number: number; title: string; state: string } | null
  /** Who bought it and must be told. */
  buyer: { personId: string; name: string; email: string } | null
}

/** What quarantining a batch would touch, unit by unit: the walk from the batch forward to the buyers. */
export function whatItTouches(sight: Sight, batchId: string): Touched[] {
  const { fittedAt } = batchCard(sight, batchId)
  const tags = new Map(fittedAt.map((held) => [held.unitId, held.tag]))
  const sold = listSoldLots(sight)
  return [...tags].map(([unitId, tag]) => {
    const lot = findLotOfUnit(sight, unitId)
    // Whoever has it now, which may not be whoever won it.
    const sale = sold.find(({ number, state }) => number === lot?.number && state !== 'fell through')
    const buyer = sale?.buyerPersonId ? findPerson(sight, sale.buyerPersonId) : null
    return {
      unitId,
      tag,
      pieces: fittedAt.filter((held) => held.unitId === unitId).length,
      certificate: currentCertificate(sight, unitId)?.serial ?? null,
      lot: lot && { number: lot.number, title: lot.title, state: lot.state },
      buyer: buyer && { personId: buyer.id, name: buyer.name, email: buyer.email },
    }
  })
}

/**
 * One action: the batch cannot be fitted any more, every unit holding a piece of it is set aside, their
 * certificates are withdrawn and their open lots go on hold. Answers with what it touched and whom to tell.
 */
export function quarantineBatch(turn: Turn, actor: Actor, { batchId, reason }: z.output<typeof quarantineIn>): Touched[] {
  const batch = batchCard(turn, batchId)
  if (batch.state === 'quarantined') throw new Refusal('conflict', `${batch.code} is already in quarantine: ${batch.reason}`)
  const touched = whatItTouches(turn, batchId)
  changeBatch(turn, actor, batch, 'state', { state: 'quarantined', reason }, reason)
  moveGiftOf(turn, actor, batch, 'quarantined', reason)
  listWhomToTell(
    turn,
    batch,
    touched.flatMap(({ buyer, unitId }) => (buyer ? [{ personId: buyer.personId, unitId }] : [])),
    reason,
  )
  const words = `Parts of batch ${batch.code} are suspect: ${reason}`
  setAsideUnitsHolding(turn, batchId, words)
  for (const { unitId, tag } of touched) {
    withdrawForChange(turn, unitId, words, checksOfBatch(turn, tag, batchId))
    holdLotOfUnit(turn, unitId, words)
  }
  return touched
}

/** The checks that exercise what the batch's pieces of a unit belong to: they are what a suspicion on it puts in doubt. */
function checksOfBatch(sight: Sight, tag: string, batchId: string): string[] {
  const state = loadUnit(sight, tag)
  const blocks = blocksOf(
    state,
    [...state.fitted.values()].filter((row) => row.batchId === batchId).map(({ designator }) => designator),
  )
  return state.design.checks.filter(({ exercises }) => exercises.some((block) => blocks.includes(block))).map(({ key }) => key)
}

/** The suspicion was unfounded: what is in hand may be fitted again. Units stay set aside until each is taken up. */
export function clearBatch(turn: Turn, actor: Actor, { batchId, reason }: z.output<typeof quarantineIn>): BatchCard {
  const batch = batchCard(turn, batchId)
  if (batch.state !== 'quarantined') throw new Refusal('conflict', `${batch.code} is not in quarantine.`)
  changeBatch(turn, actor, batch, 'state', { state: 'available', reason: null }, reason)
  moveGiftOf(turn, actor, batch, 'inspected', reason)
  listWhomToTellAgain(turn, batchId, reason)
  return batchCard(turn, batchId)
}

function moveGiftOf(turn: Turn, actor: Actor, batch: BatchCard, to: GiftState, reason: string): void {
  if (batch.giftId === null) return
  const gift = getGift(turn, batch.giftId)
  if (movesFrom(gift.state).includes(to)) changeGift(turn, actor, gift, 'state', { state: to }, reason)
}
