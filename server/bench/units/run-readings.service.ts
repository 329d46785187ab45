import type { Sight } from '#runtime/queue/turn'
import { readingsOfRun } from './run-readings.store'

export type RunReading = ReturnType<typeof readingsOfRun>[number]

/** Every reading that was ever taken of the units of a run, unit by unit in the order they were taken. */
export const runReadings = (sight: Sight, runId: string): RunReading[] => readingsOfRun(sight.db, runId)
