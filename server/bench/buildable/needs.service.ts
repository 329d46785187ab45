import { groupBy } from '#kernel/group'
import type { Sight } from '#runtime/queue/turn'
import { acceptedByLine } from '../designs/substitutes.service'
import type { UnitNeeds } from './build.contract'
import { needsFrom } from './needs.store'
import { importances } from './plan.service'

/** What each unit still lacks, line by line, in the order in which units should be built: runs by age, units by number. */
export function unitNeeds(sight: Sight): UnitNeeds[] {
  const from = needsFrom(sight.db)
  const units = from.units.all()
  const lines = new Map([...new Set(units.map(({ designId }) => designId))].map((id) => [id, from.lines.all(id)]))
  const fittedIn = groupBy(from.fitted.all(), ({ unitId }) => unitId)
  const accepted = acceptedByLine(sight)
  const mattering = importances(sight)
  return units.flatMap(({ unitId, designId, ...unit }) => {
    const fitted = new Map((fittedIn.get(unitId) ?? []).map((row) => [row.lineId, row.fitted]))
    const lacks = (lines.get(designId) ?? []).flatMap(({ lineId, partId, positions }) => {
      const quantity = positions - (fitted.get(lineId) ?? 0)
      return quantity > 0 ? [{ lineId, partId, accepts: accepted.get(lineId) ?? [], quantity }] : []
    })
    return lacks.length > 0 ? [{ unitId, designId, ...unit, importance: mattering.get(unitId) ?? 2, lines: lacks }] : []
  })
}
