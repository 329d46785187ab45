import type { Sight, Turn } from '#runtime/queue/turn'
import { canGrow, damageOf } from '../bids/kept-right.service'
import { applyCommand } from '../bids/lot-command.service'
import { forgetLot, openedLot } from '../bids/lot-state.service'
import { tellMakersOfDamage } from '../letters/letters.service'
import { changeLot, type LotRow, listRunningRows } from '../lots/lots.service'

const REASON = 'The house’s record of this lot is damaged. It cannot be closed until the maker has looked into it.'

/**
 * How many entries of all open lots are looked through before a house takes anything (common practice: a tenth of a second or two). The
 * longest histories are left to a look of the whole house, which follows at once and keeps nobody waiting.
 */
const MOST_AT_ONCE = 2_000

/** Looks through the open lots, as at a start: those that are damaged are set aside. */
export function setAsideDamaged(turn: Turn): void {
  for (const row of shortest(turn).now) setAsideIfDamaged(turn, row)
}

/** Whether a start left histories for a look of the whole house. */
export const isLongerThanAStart = (sight: Sight): boolean => shortest(sight).later.length > 0

function shortest(sight: Sight): { now: LotRow[]; later: LotRow[] } {
  const open = listRunningRows(sight)
    .filter(({ state }) => state === 'open')
    .sort((a, b) => a.ledgerSize - b.ledgerSize)
  let entries = 0
  // One that cannot be opened at all would keep the others from being settled, so that is asked of every lot.
  const isNow = (row: LotRow) => {
    entries += row.ledgerSize
    return entries <= MOST_AT_ONCE || readable(() => openedLot(sight, row)) === null
  }
  const now = open.filter(isNow)
  return { now, later: open.filter((row) => !now.includes(row)) }
}

/** Sets aside those of some lots that are open and damaged; the others are left as they are. */
export function setAsideOf(turn: Turn, numbers: ReadonlySet<number>): void {
  for (const row of listRunningRows(turn)) if (row.state === 'open' && numbers.has(row.number)) setAsideIfDamaged(turn, row)
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
  const lot = canGrow(turn, row.number) ? readable(() => openedLot(turn, row)) : null
  // Its history says so, where it can still be written on.
  if (lot) applyCommand(turn, lot, { command: { kind: 'hold', reason: REASON }, by: 'rule', at, also })
  else {
    changeLot(turn, row.id, { ...also, state: 'held', heldSince: at })
    forgetLot(turn, row.number)
  }
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
