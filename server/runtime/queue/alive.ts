import { alive } from '#db/schema/index'
import type { Instant } from '#kernel/instant'
import type { Sight, Turn } from './turn'

/** The last second at which the house noted that it was alive; null before its first. What came before the present start is read before ticking begins. */
export const lastAlive = (sight: Sight): Instant | null => sight.db.select().from(alive).get()?.at ?? null

/** Notes that the house is alive at this instant: silence is counted from here on. */
export function noteAlive({ db, now }: Turn): void {
  db.insert(alive)
    .values({ id: 1, at: now })
    .onConflictDoUpdate({ target: alive.id, set: { at: now } })
    .run()
}
