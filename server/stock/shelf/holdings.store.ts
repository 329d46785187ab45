import { and, asc, eq, inArray, isNull, sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { design, fitting, position, run, unit } from '#db/schema/index'

/** The revision that a unit is built to now. */
const designNow = sql<string>`coalesce(${unit.designId}, ${run.designId})`

/** What of these batches is in which unit now. */
export const fittedRows = (db: Db, batchIds: readonly string[]) =>
  db
    .select({ batchId: fitting.batchId, pieceId: fitting.pieceId, unitId: unit.id, tag: unit.tag, designator: fitting.designator })
    .from(fitting)
    .innerJoin(unit, eq(unit.id, fitting.unitId))
    .where(and(isNull(fitting.outAt), inArray(fitting.batchId, [...batchIds])))
    .orderBy(asc(unit.tag), asc(fitting.designator))
    .all()

/** Positions in which nothing is fitted, of units that are not set aside, in the order of runs and numbers. */
export const openPositionRows = (db: Db) =>
  db
    .select({
      unitId: unit.id,
      tag: unit.tag,
      designId: design.id,
      designName: design.name,
      partId: position.partId,
      lineId: position.lineId,
    })
    .from(unit)
    .innerJoin(run, eq(run.id, unit.runId))
    .innerJoin(design, eq(design.id, designNow))
    .innerJoin(position, eq(position.designId, design.id))
    .leftJoin(fitting, and(eq(fitting.unitId, unit.id), eq(fitting.designator, position.designator), isNull(fitting.outAt)))
    .where(and(isNull(unit.setAsideAt), isNull(fitting.id)))
    .orderBy(asc(run.at), asc(run.tagPrefix), asc(unit.number))
    .all()

/** Which of these pieces were ever in a unit, taken out again or not. */
export const everFittedRows = (db: Db, pieceIds: readonly string[]) =>
  db
    .selectDistinct({ pieceId: fitting.pieceId })
    .from(fitting)
    .where(inArray(fitting.pieceId, [...pieceIds]))
    .all()

/** The batches that the pieces fitted in a unit now came from. */
export const batchIdsIn = (db: Db, unitId: string): string[] =>
  db
    .selectDistinct({ batchId: fitting.batchId })
    .from(fitting)
    .where(and(eq(fitting.unitId, unitId), isNull(fitting.outAt)))
    .all()
    .map(({ batchId }) => batchId)

export const findDesignId = (db: Db, unitId: string): string | undefined =>
  db.select({ designId: designNow }).from(unit).innerJoin(run, eq(run.id, unit.runId)).where(eq(unit.id, unitId)).get()?.designId
