import { eq } from 'drizzle-orm'
import type { Db } from '#db/open'
import { lotValue, reliefSwitch } from '#db/schema/index'

export const listSwitches = (db: Db) => db.select().from(reliefSwitch).all()

export const keepSwitch = (db: Db, row: typeof reliefSwitch.$inferInsert): void => {
  db.insert(reliefSwitch).values(row).onConflictDoUpdate({ target: reliefSwitch.country, set: row }).run()
}

export const findValue = (db: Db, lotId: string) => db.select().from(lotValue).where(eq(lotValue.lotId, lotId)).get() ?? null

export const keepValue = (db: Db, row: typeof lotValue.$inferInsert): void => {
  db.insert(lotValue).values(row).onConflictDoUpdate({ target: lotValue.lotId, set: row }).run()
}

export const dropValue = (db: Db, lotId: string): void => {
  db.delete(lotValue).where(eq(lotValue.lotId, lotId)).run()
}
