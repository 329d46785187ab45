import { eq, sql } from 'drizzle-orm'
import type { Db } from '../../db/open'
import { reading, unit } from '../../db/schema'

export type UnitRow = typeof unit.$inferSelect

export const findUnitRowByTag = (db: Db, tag: string): UnitRow | undefined => db.select().from(unit).where(eq(unit.tag, tag)).get()
export const findUnitRow = (db: Db, id: string): UnitRow | undefined => db.select().from(unit).where(eq(unit.id, id)).get()
export const listUnitRows = (db: Db): UnitRow[] => db.select().from(unit).orderBy(unit.tag).all()

/** Asked at every bid, so it is built once for each database. */
const readers = new WeakMap<Db, ReturnType<typeof prepareReaders>>()
const prepareReaders = (db: Db) =>
  db
    .selectDistinct({ personId: reading.byPersonId })
    .from(reading)
    .where(eq(reading.unitId, sql.placeholder('unitId')))
    .prepare()

export function listReaders(db: Db, unitId: string): string[] {
  const query = readers.get(db) ?? prepareReaders(db)
  readers.set(db, query)
  return query.all({ unitId }).map(({ personId }) => personId)
}
