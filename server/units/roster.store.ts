import { eq } from 'drizzle-orm'
import type { Db } from '../../db/open'
import { reading, unit } from '../../db/schema'

export type UnitRow = typeof unit.$inferSelect

export const findUnitRowByTag = (db: Db, tag: string): UnitRow | undefined => db.select().from(unit).where(eq(unit.tag, tag)).get()
export const findUnitRow = (db: Db, id: string): UnitRow | undefined => db.select().from(unit).where(eq(unit.id, id)).get()
export const listUnitRows = (db: Db): UnitRow[] => db.select().from(unit).orderBy(unit.tag).all()

export const listReaders = (db: Db, unitId: string): string[] =>
  db
    .selectDistinct({ personId: reading.byPersonId })
    .from(reading)
    .where(eq(reading.unitId, unitId))
    .all()
    .map(({ personId }) => personId)
