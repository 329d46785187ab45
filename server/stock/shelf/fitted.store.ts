import { and, asc, eq, inArray, isNull } from 'drizzle-orm'
import type { Db } from '#db/open'
import { fitting, unit } from '#db/schema/index'

/** What of these batches is in which unit now. */
export const fittedRows = (db: Db, batchIds: readonly string[]) =>
  db
    .select({ batchId: fitting.batchId, pieceId: fitting.pieceId, unitId: unit.id, tag: unit.tag, designator: fitting.designator })
    .from(fitting)
    .innerJoin(unit, eq(unit.id, fitting.unitId))
    .where(and(isNull(fitting.outAt), inArray(fitting.batchId, [...batchIds])))
    .orderBy(asc(unit.tag), asc(fitting.designator))
    .all()

/** Which of these pieces were ever in a unit, taken out again or not. */
export const everFittedRows = (db: Db, pieceIds: readonly string[]) =>
  db
    .selectDistinct({ pieceId: fitting.pieceId })
    .from(fitting)
    .where(inArray(fitting.pieceId, [...pieceIds]))
    .all()
