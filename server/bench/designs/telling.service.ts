import { Refusal } from '#kernel/refusal'
import type { Sight, Turn } from '#runtime/queue/turn'
import { getDesign, type WholeDesign } from './designs.service'
import { functionFirst, MOST_TELLING, usualTelling } from './telling.rules'
import * as store from './telling.store'

/** Keys of the checks whose readings stand on the pages of a design's lots, in their order: the maker's choice, or the usual. */
export function tellingChecks(sight: Sight, design: WholeDesign): string[] {
  const inDesign = new Set(functionFirst(design).map(({ key }) => key))
  const chosen = store.tellingOf(sight.db, design.key).filter((key) => inDesign.has(key))
  return chosen.length > 0 ? chosen : usualTelling(design)
}

/** What may be chosen, what is, and what would be where nothing is. */
export function readTelling(sight: Sight, designId: string) {
  const design = getDesign(sight, designId)
  return {
    choices: functionFirst(design).map(({ key, title, exercises }) => ({ key, title, blocks: exercises })),
    chosen: tellingChecks(sight, design),
    isUsual: store.tellingOf(sight.db, design.key).length === 0,
  }
}

/** The maker chooses; choosing none goes back to the usual. It holds for every revision of the design. */
export function chooseTelling(turn: Turn, { designId, checks }: { designId: string; checks: readonly string[] }): void {
  const design = getDesign(turn, designId)
  const inOrder = functionFirst(design).map(({ key }) => key)
  const other = checks.find((key) => !inOrder.includes(key))
  if (other !== undefined)
    throw Refusal.at('checks', `${other} is no check of this design that ends in a figure. Reload the page and choose again.`)
  if (checks.length > MOST_TELLING) throw Refusal.at('checks', `Choose ${MOST_TELLING} at most: nobody reads more at a glance.`)
  store.replaceTelling(
    turn.db,
    design.key,
    inOrder.filter((key) => checks.includes(key)),
  )
  turn.record({ kind: 'design.telling', subject: `design:${design.key}`, body: { designId, checks: checks.length } })
}
