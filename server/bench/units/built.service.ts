import type { Sight } from '#runtime/queue/turn'
import { countRunsOf } from './units.store'

/** Units are, or were, built to this revision. */
export const isBeingBuilt = (sight: Sight, designId: string): boolean => countRunsOf(sight.db, designId) > 0
