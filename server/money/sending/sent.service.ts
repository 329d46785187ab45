import type { Sight } from '#runtime/queue/turn'
import * as store from './sending.store'

/** Whether what was sold has left the house: the last terminal of the strip. */
export const isSent = (sight: Sight, lotId: string): boolean => (store.findConsignment(sight.db, lotId)?.sentAt ?? null) !== null

/** Whether it is known to have come to its buyer. */
export const hasArrived = (sight: Sight, lotId: string): boolean => (store.findConsignment(sight.db, lotId)?.arrivedAt ?? null) !== null
