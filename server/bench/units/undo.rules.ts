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

/**
 * The checks whose readings a change spoils, in the order of the checklist, each with the reason:
 * those that exercise a touched block or any block downstream of it; current and ripple checks of
 * what powers it; where an iron was used, every visual and cold check, since solder goes where no
 * drawing has a line; soak and close-out. A change that touches no block spoils soak and close-out all the same.
 */
export function undoneBy(change: Change, checks: readonly Check[], feeds: readonly Feed[]): Undone[] {
  const touched = new Set(change.blocks)
  const downstream = downstreamOf(touched, feeds)
  const powering = powersOf(touched, feeds)
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
    if (change.iron && isLooking(check)) return 'an iron was used'
    if (check.kind === 'soak') return 'a soak starts again after a change'
    if (isCloseOut(check)) return 'the record was closed before the change'
    return null
  }
}

export const isCold = (check: Pick<Check, 'stageKind'>) => check.stageKind === 'cold'

export const isCloseOut = (check: Pick<Check, 'stageKind'>) => check.stageKind === 'close-out'

const isLooking = (check: Pick<Check, 'stageKind'>) => isCold(check) || check.stageKind === 'visual'

/** A current, or a ripple by its title or as what swings on a supply: what a change to a load can move on its supply. */
export const isCurrentOrRipple = ({ unit, title, stageKind }: Pick<Check, 'unit' | 'title' | 'stageKind'>) =>
  /^[pnµmk]?A$/.test(unit) || /\b(ripple|hum)\b/i.test(title) || (stageKind === 'rails' && /(?:pp|rms)$/.test(unit))

const list = (names: string[]) => names.join(', ')
