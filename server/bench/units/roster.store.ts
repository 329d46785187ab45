import { eq, sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { plainRead } from '#db/plain'
import { preparedFor } from '#db/prepared'
import { reading, unit } from '#db/schema/index'

export type UnitRow = typeof unit.$inferSelect

export const findUnitRowByTag = (db: Db, tag: string): UnitRow | undefined => db.select().from(unit).where(eq(unit.tag, tag)).get()
export const findUnitRow = (db: Db, id: string): UnitRow | undefined => db.select().from(unit).where(eq(unit.id, id)).get()
export const listUnitRows = (db: Db): UnitRow[] => db.select().from(unit).orderBy(unit.tag).all()

// Asked at every bid.
const readersOf = preparedFor((db) =>
  plainRead(
    db,
    ['unitId'],
    db
      .selectDistinct({ personId: reading.byPersonId })
      .from(reading)
      .where(eq(reading.unitId, sql.placeholder('unitId'))),
  ),
)

export const listReaders = (db: Db, unitId: string): string[] => readersOf(db)({ unitId }).map(({ personId }) => personId)
