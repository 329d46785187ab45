import { and, eq, isNull, sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { plainRead } from '#db/plain'
import { preparedFor } from '#db/prepared'
import { fitting, reading, run, unit } from '#db/schema/index'

export type UnitRow = typeof unit.$inferSelect

export const findUnitRowByTag = (db: Db, tag: string): UnitRow | undefined => db.select().from(unit).where(eq(unit.tag, tag)).get()
export const findUnitRow = (db: Db, id: string): UnitRow | undefined => db.select().from(unit).where(eq(unit.id, id)).get()
export const listUnitRows = (db: Db): UnitRow[] => db.select().from(unit).orderBy(unit.tag).all()

/** The revision that a unit is built to now: its own where it moved on from that of its run. */
export const findDesignIdNow = (db: Db, unitId: string): string | undefined =>
  db
    .select({ designId: sql<string>`coalesce(${unit.designId}, ${run.designId})` })
    .from(unit)
    .innerJoin(run, eq(run.id, unit.runId))
    .where(eq(unit.id, unitId))
    .get()?.designId

/** The batches that the pieces fitted in a unit now came from. */
export const batchIdsIn = (db: Db, unitId: string): string[] =>
  db
    .selectDistinct({ batchId: fitting.batchId })
    .from(fitting)
    .where(and(eq(fitting.unitId, unitId), isNull(fitting.outAt)))
    .all()
    .map(({ batchId }) => batchId)

// Asked at every bid.
const readingsBy = preparedFor((db) =>
  plainRead(
    db,
    ['unitId', 'personId'],
    db
      .select({ id: reading.id })
      .from(reading)
      .where(and(eq(reading.unitId, sql.placeholder('unitId')), eq(reading.byPersonId, sql.placeholder('personId')))),
  ),
)

export const hasReadingBy = (db: Db, unitId: string, personId: string): boolean => readingsBy(db)({ unitId, personId }).length > 0
