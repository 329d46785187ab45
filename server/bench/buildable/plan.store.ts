import { eq } from 'drizzle-orm'
import type { Db } from '#db/open'
import { buildReady, giftExpected, unitImportance } from '#db/schema/index'
import type { Importance } from './build.contract'

export const importanceRows = (db: Db) => db.select().from(unitImportance).all()

export const saveImportance = (db: Db, unitId: string, importance: Importance): void =>
  void db
    .insert(unitImportance)
    .values({ unitId, importance })
    .onConflictDoUpdate({ target: unitImportance.unitId, set: { importance } })
    .run()

export const findReady = (db: Db) => db.select().from(buildReady).get()

export const saveReady = (db: Db, ready: { readyOn: string | null; benchDays: number }): void =>
  void db
    .insert(buildReady)
    .values({ id: 1, ...ready })
    .onConflictDoUpdate({ target: buildReady.id, set: ready })
    .run()

export const expectedRows = (db: Db) => db.select().from(giftExpected).all()

export const saveExpected = (db: Db, giftId: string, expectedOn: string | null): void => {
  if (expectedOn === null) {
    db.delete(giftExpected).where(eq(giftExpected.giftId, giftId)).run()
    return
  }
  db.insert(giftExpected).values({ giftId, expectedOn }).onConflictDoUpdate({ target: giftExpected.giftId, set: { expectedOn } }).run()
}
