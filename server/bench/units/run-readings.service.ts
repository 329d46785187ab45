import type { Sight } from '#runtime/queue/turn'
import { readingsElsewhere } from './bench.store'
import { readingsOfRun } from './run-readings.store'
import type { UnitState } from './unit-state.service'

export type RunReading = ReturnType<typeof readingsOfRun>[number]

/** Every reading that was ever taken of the units of a run, unit by unit in the order they were taken. */
export const runReadings = (sight: Sight, runId: string): RunReading[] => readingsOfRun(sight.db, runId)

/** What a good unit of the same design reads, by check. */
export const goodReadings = (sight: Sight, { design, unit }: UnitState): ReadonlyMap<string, number> =>
  new Map(readingsElsewhere(sight.db, design.key, unit.id).map(({ checkKey, value }) => [checkKey, value]))
