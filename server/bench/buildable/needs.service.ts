import { groupBy } from '#kernel/group'
import type { Sight } from '#runtime/queue/turn'
import { acceptedByLine } from '../designs/substitutes.service'
import type { UnitNeeds } from './build.contract'
import { openPositionRows } from './needs.store'
import { importances } from './plan.service'

/** What each unit still lacks, line by line, in the order in which units should be built: runs by age, units by number. */
export function unitNeeds(sight: Sight): UnitNeeds[] {
  const accepted = acceptedByLine(sight)
  const mattering = importances(sight)
  return [...groupBy(openPositionRows(sight.db), (row) => row.unitId).values()].flatMap(([first, ...rest]) => {
    if (!first) return []
    const lines = [...groupBy([first, ...rest], (row) => row.lineId)].flatMap(([lineId, rows]) => {
      const partId = rows[0]?.partId
      return partId === undefined ? [] : [{ lineId, partId, accepts: accepted.get(lineId) ?? [], quantity: rows.length }]
    })
    const { unitId, tag, designId, designName } = first
    return [{ unitId, tag, designId, designName, importance: mattering.get(unitId) ?? 2, lines }]
  })
}
