import { Refusal } from '#kernel/refusal'
import { listPriceDesks } from '#money/fixed-price/offer-price.service'
import { isOffered } from '#money/invoices/underbidder.service'
import { type Actor, once, type Sight, type Turn } from '#runtime/queue/turn'
import { copyAnew } from '#sale/lots/copy.service'
import { findLotOfUnit, getLotRow } from '#sale/lots/lots.service'
import { planItem } from '#sale/programme/programme.service'
import type { LeftLot, SellAnewIn } from './checklist.contract'

/** Machines of lots that have ended which nobody has: not sold, not offered to a bidder, and in no later lot. */
export const listLeft = (sight: Sight): LeftLot[] =>
  listPriceDesks(sight).flatMap((desk): LeftLot[] => {
    const { id, unitId, unitTag, afterwards } = getLotRow(sight, desk.lot)
    const isLast = findLotOfUnit(sight, unitId)?.id === id
    return isLast && !isOffered(sight, id) ? [{ ...desk, unit: unitTag, afterwards }] : []
  })

/** One step from what is left to another closing: a new lot of the same machine, and its closing where a time was said. */
export function sellAnew(turn: Turn, actor: Actor, input: SellAnewIn): { number: number } {
  return once(turn, input.key, input, () => {
    const { lot, on, at, which } = input
    const left = listLeft(turn).find((one) => one.lot === lot)
    if (!left)
      throw Refusal.at('lot', `The machine of lot ${lot} is not free: it is sold, offered to somebody, or in another lot.`, 'conflict')
    if (on === '' && at !== '') throw Refusal.at('on', 'Write the day too, or leave both empty and plan it later.')
    if (at === '' && on !== '') throw Refusal.at('at', 'Write the time too, or leave both empty and plan it later.')
    const { number } = copyAnew(turn, actor, lot)
    if (on !== '') planItem(turn, { kind: 'closing', lot: number, on, at, which })
    return { number }
  })
}
