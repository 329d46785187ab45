import type { Sight } from '#runtime/queue/turn'
import { getDesign } from '../designs/designs.service'
import { catchesOf } from './catch.rules'
import * as store from './faults.store'

/** The catches of a design: what is usual for each check and block, and what was set in its place. */
export function catchTable(sight: Sight, designId: string) {
  const design = getDesign(sight, designId)
  const { checks, feeds, blocks } = design
  const usual = catchesOf({ checks, feeds, blocks, fitted: new Set(blocks) })
  const set = store.catchRowsOf(sight.db, designId)
  return {
    design: { id: design.id, name: design.name, revision: design.revision },
    blocks,
    checks: checks.map(({ key, title }) => ({
      key,
      title,
      catches: blocks.map((block) => ({
        block,
        usual: usual.get(key)?.get(block) ?? 0,
        set: set.find((row) => row.checkKey === key && row.block === block)?.share ?? null,
      })),
    })),
  }
}
