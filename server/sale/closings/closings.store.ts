import { eq, isNull } from 'drizzle-orm'
import type { Db } from '#db/open'
import { closingHold } from '#db/schema/index'
import type { Instant } from '#kernel/instant'

/** The hold of all clocks that has not ended yet. */
export const findHoldOfAll = (db: Db) => db.select().from(closingHold).where(isNull(closingHold.until)).get()
export const insertHold = (db: Db, row: { id: string; since: Instant; reason: string; byPersonId: string | null }): void => {
  db.insert(closingHold).values(row).run()
}
export const endHold = (db: Db, id: string, until: Instant, shiftMs: number): void => {
  db.update(closingHold).set({ until, shiftMs }).where(eq(closingHold.id, id)).run()
}
