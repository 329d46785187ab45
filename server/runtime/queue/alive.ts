import { alive } from '#db/schema/index'
import type { Instant } from '#kernel/instant'
import type { Sight } from './turn'

/** The last second at which the house noted that it was alive; null before its first. What came before the present start is read before ticking begins. */
export const lastAlive = (sight: Sight): Instant | null => sight.db.select().from(alive).get()?.at ?? null
