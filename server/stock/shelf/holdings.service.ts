import type { UnitNeeds } from '#bench/buildable/build.contract'
import { importances } from '#bench/buildable/importance.service'
import { acceptedByLine } from '#bench/designs/substitutes.service'
import { groupBy } from '#kernel/group'
import type { Sight } from '#runtime/queue/turn'
import { batchIdsIn, everFittedRows, findDesignId, fittedRows, openPositionRows } from './holdings.store'

export type Holding = ReturnType<typeof fittedRows>[number]

/** What of these batches is in which unit now, piece by piece. */
export const fittedNow = (sight: Sight, batchIds: readonly string[]): Holding[] => fittedRows(sight.db, batchIds)

/** What a unit is made of now: its design, and the batches its pieces came from. */
export const madeOf = (sight: Sight, unitId: string): { designId: string; batchIds: string[] } => ({
  designId: findDesignId(sight.db, unitId) ?? '',
  batchIds: batchIdsIn(sight.db, unitId),
})

/** The tags of these pieces stand in some unit's record, so they can never be taken back. */
export const everFitted = (sight: Sight, pieceIds: readonly string[]): Set<string | null> =>
  new Set(everFittedRows(sight.db, pieceIds).map((row) => row.pieceId))

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
