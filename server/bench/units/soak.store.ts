import { and, eq, isNull } from 'drizzle-orm'
import type { Db } from '#db/open'
import { soakRun } from '#db/schema/index'

export type SoakRow = typeof soakRun.$inferSelect

export const findRunningSoak = (db: Db, unitId: string): SoakRow | undefined =>
  db
    .select()
    .from(soakRun)
    .where(and(eq(soakRun.unitId, unitId), isNull(soakRun.endedAt)))
    .get()

/** Every soak that ever ran on a unit. */
export const soaksOfUnit = (db: Db, unitId: string): SoakRow[] => db.select().from(soakRun).where(eq(soakRun.unitId, unitId)).all()

export const insertSoak = (db: Db, row: SoakRow): void => void db.insert(soakRun).values(row).run()

export const updateSoak = (db: Db, id: string, row: Partial<SoakRow>): void =>
  void db.update(soakRun).set(row).where(eq(soakRun.id, id)).run()
