import { and, asc, count, eq, inArray, isNull } from 'drizzle-orm'
import type { Db } from '#db/open'
import { certificate, fitting, unit } from '#db/schema/index'

/** What of these batches is in which unit now. */
export const fittedRows = (db: Db, batchIds: readonly string[]) =>
  db
    .select({ batchId: fitting.batchId, pieceId: fitting.pieceId, unitId: unit.id, tag: unit.tag, designator: fitting.designator })
    .from(fitting)
    .innerJoin(unit, eq(unit.id, fitting.unitId))
    .where(and(isNull(fitting.outAt), inArray(fitting.batchId, [...batchIds])))
    .orderBy(asc(unit.tag), asc(fitting.designator))
    .all()

/** How many of each of these batches sit in machines that hold a certificate now: they were tried there, and are good. */
export const certifiedRows = (db: Db, batchIds: readonly string[]) =>
  db
    .select({ batchId: fitting.batchId, good: count() })
    .from(fitting)
    .innerJoin(certificate, eq(certificate.unitId, fitting.unitId))
    .where(
      and(
        isNull(fitting.outAt),
        isNull(certificate.withdrawnAt),
        isNull(certificate.supersededBy),
        inArray(fitting.batchId, [...batchIds]),
      ),
    )
    .groupBy(fitting.batchId)
    .all()

/** Which of these pieces were ever in a unit, taken out again or not. */
export const everFittedRows = (db: Db, pieceIds: readonly string[]) =>
  db
    .selectDistinct({ pieceId: fitting.pieceId })
    .from(fitting)
    .where(inArray(fitting.pieceId, [...pieceIds]))
    .all()
