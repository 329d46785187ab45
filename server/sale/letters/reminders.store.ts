import { and, eq, isNull } from 'drizzle-orm'
import type { Db } from '#db/open'
import { reminder } from '#db/schema/index'
import type { Instant } from '#kernel/instant'

export const hasReminder = (db: Db, lotId: string, personId: string): boolean =>
  db
    .select({ at: reminder.at })
    .from(reminder)
    .where(and(eq(reminder.lotId, lotId), eq(reminder.personId, personId)))
    .get() !== undefined
export const insertReminder = (db: Db, row: { lotId: string; personId: string; at: Instant }): void => {
  db.insert(reminder).values(row).onConflictDoNothing().run()
}
export const deleteReminder = (db: Db, lotId: string, personId: string): void => {
  db.delete(reminder)
    .where(and(eq(reminder.lotId, lotId), eq(reminder.personId, personId)))
    .run()
}
export const listRemindersOfLot = (db: Db, lotId: string) => db.select().from(reminder).where(eq(reminder.lotId, lotId)).all()
export const listUnsentReminders = (db: Db) => db.select().from(reminder).where(isNull(reminder.sentAt)).all()
export const markReminded = (db: Db, lotId: string, personId: string, sentAt: Instant): void => {
  db.update(reminder)
    .set({ sentAt })
    .where(and(eq(reminder.lotId, lotId), eq(reminder.personId, personId)))
    .run()
}
