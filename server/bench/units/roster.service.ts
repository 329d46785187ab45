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

/** Everybody who ever took a reading of a unit; none of them may bid on it. */
export const listTesters = (sight: Sight, unitId: string): string[] => store.listReaders(sight.db, unitId)
