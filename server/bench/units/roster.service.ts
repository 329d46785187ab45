import { Refusal } from '#kernel/refusal'
import type { Sight } from '#runtime/queue/turn'
import * as store from './roster.store'

/** A unit by its tag, such as TERN-03; null when there is none. */
export const findUnitByTag = (sight: Sight, tag: string): store.UnitRow | null => store.findUnitRowByTag(sight.db, tag) ?? null

export function getUnitRow(sight: Sight, id: string): store.UnitRow {
  const row = store.findUnitRow(sight.db, id)
  if (!row) throw new Refusal('not-found', 'There is no such unit.')
  return row
}

/** Every unit by tag. */
export const listRoster = (sight: Sight): store.UnitRow[] => store.listUnitRows(sight.db)

/** What a unit is made of now: its design, and the batches its pieces came from. */
export const madeOf = (sight: Sight, unitId: string): { designId: string; batchIds: string[] } => ({
  designId: store.findDesignIdNow(sight.db, unitId) ?? '',
  batchIds: store.batchIdsIn(sight.db, unitId),
})

/** Whether somebody ever took a reading of a unit; then they may not bid on it. */
export const hasTested = (sight: Sight, unitId: string, personId: string): boolean => store.hasReadingBy(sight.db, unitId, personId)
