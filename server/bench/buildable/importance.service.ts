import type { Sight } from '#runtime/queue/turn'
import type { Importance } from './build.contract'
import { importanceRows } from './plan.store'

/** How much each unit matters; one that is not among them matters as the others. */
export const importances = (sight: Sight): Map<string, Importance> =>
  new Map(importanceRows(sight.db).map(({ unitId, importance }) => [unitId, importance]))
