import type { Sight } from '#runtime/queue/turn'
import type { UnitState } from '../units/unit-state.service'
import type { FaultFound } from './fault.contract'
import * as store from './faults.store'
import { faultTitle, type StandsNow } from './title.rules'

/** What stands of each check of a unit, in the order of its checklist. */
export const standsNow = ({ design, standing, readings }: Pick<UnitState, 'design' | 'standing' | 'readings'>): StandsNow[] =>
  design.checks.flatMap(({ key, title }) => {
    const row = readings.find(({ id }) => id === standing.states.get(key)?.current)
    return row ? [{ check: key, title, entry: row.entry, verdict: row.verdict }] : []
  })

/** The fault of a unit that is open, called by what fails now; null when none is. */
export function openFaultTitle(sight: Sight, state: Pick<UnitState, 'unit' | 'design' | 'standing' | 'readings'>): string | null {
  const open = store.findOpenRow(sight.db, state.unit.id)
  return open ? faultTitle(open, standsNow(state)) : null
}

/** Every fault that a unit has had, the oldest first, as far as everybody may read of it. */
export const faultsFound = (sight: Sight, unitId: string): FaultFound[] =>
  store
    .faultsOf(sight.db, unitId)
    .toReversed()
    .map(({ checkKey, openedAt, closedAt, cause }) => ({
      check: checkKey,
      foundAt: openedAt,
      closedAt,
      cause: closedAt === null ? null : (cause ?? 'none'),
    }))
