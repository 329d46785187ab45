import { downstreamOf, powersOf } from '../designs/blocks.rules'
import type { Check, Feed } from '../designs/design.contract'

/** What was changed in a unit: the blocks that the touched positions belong to, and whether an iron was used. */
export interface Change {
  blocks: string[]
  iron: boolean
}

export interface Undone {
  check: string
  why: string
}

/** The block in which every soldered joint is, whatever it serves; designs that have it call it so. */
const ASSEMBLY = 'assembly'

/**
 * The checks whose readings a change spoils, in the order of the checklist, each with the reason:
 * those that exercise a touched block or any block downstream of it; current and ripple checks of
 * what powers it; where an iron was used, the visual and cold checks that look at it (the board's
 * joints and the supplies it hangs on among them); soak and close-out. A change that touches no
 * block spoils soak and close-out all the same.
 */
export function undoneBy(change: Change, checks: readonly Check[], feeds: readonly Feed[]): Undone[] {
  const touched = new Set(change.blocks)
  const downstream = downstreamOf(touched, feeds)
  const powering = powersOf(touched, feeds)
  const looked = new Set([...touched, ...powering, ASSEMBLY])
  return checks.flatMap((check) => {
    const why = reason(check)
    return why === null ? [] : [{ check: check.key, why }]
  })

  function reason(check: Check): string | null {
    const own = check.exercises.find((block) => touched.has(block))
    if (own !== undefined) return `${own} was changed`
    const fed = check.exercises.find((block) => downstream.has(block))
    if (fed !== undefined) return `${fed} is fed by ${list(change.blocks)}`
    const supply = check.exercises.find((block) => powering.has(block))
    if (supply !== undefined && isCurrentOrRipple(check)) return `${supply} powers ${list(change.blocks)}`
    if (change.iron && isLooking(check) && check.exercises.some((block) => looked.has(block))) return 'an iron was used'
    if (check.kind === 'soak') return 'a soak starts again after a change'
    if (isCloseOut(check)) return 'the record was closed before the change'
    return null
  }
}

export const isCold = (check: Check) => check.stage.trim().toLowerCase() === 'cold'

export const isCloseOut = (check: Pick<Check, 'stage'>) => /^close[- ]?out$/i.test(check.stage.trim())

const isLooking = (check: Check) => isCold(check) || check.stage.trim().toLowerCase() === 'visual'

/** By its unit a current, by its title a ripple: what a change to a load can move on its supply. */
export const isCurrentOrRipple = (check: Check) => /^[pnµmk]?A$/.test(check.unit) || /\b(ripple|hum)\b/i.test(check.title)

const list = (names: string[]) => names.join(', ')
