import type { Turn } from '#runtime/queue/turn'
import { damageOf } from '../bids/kept-right.service'
import { applyCommand } from '../bids/lot-command.service'
import { openedLot } from '../bids/lot-state.service'
import { tellMakersOfDamage } from '../letters/letters.service'
import { changeLot, type LotRow, listRunningRows } from '../lots/lots.service'

const REASON = 'The house’s record of this lot is damaged. It cannot be closed until the maker has looked into it.'

/** Looks through every open lot, as at a start: those that are damaged are set aside. */
export function setAsideDamaged(turn: Turn): void {
  for (const row of listRunningRows(turn)) if (row.state === 'open') setAsideIfDamaged(turn, row)
}

/**
 * A lot that could not be closed rightly is not closed: its clock is stopped, the makers are told, and all other lots go on.
 * Answers whether that was so.
 */
export function setAsideIfDamaged(turn: Turn, row: LotRow): boolean {
  const damage = damageOf(turn, row.number)
  if (damage === null) return false
  // An instant before the closing at the latest: after it nothing stops a clock.
  const at = Math.min(turn.now, (row.closesAt ?? turn.now) - 1)
  const also = { heldReason: REASON, heldWithAll: false }
  const lot = readable(() => openedLot(turn, row))
  // Its history says so, where it can still be read far enough to be written on.
  if (lot) applyCommand(turn, lot, { command: { kind: 'hold', reason: REASON }, by: 'rule', at, also })
  else changeLot(turn, row.id, { ...also, state: 'held', heldSince: at })
  turn.record({ kind: 'lot.setAside', subject: `lot:${row.number}`, body: { number: row.number, damage } })
  tellMakersOfDamage(turn, row, damage)
  return true
}

function readable<T>(read: () => T): T | null {
  try {
    return read()
  } catch {
    return null
  }
}
