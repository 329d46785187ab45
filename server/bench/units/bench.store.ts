import { and, asc, desc, eq, isNull, max, ne, sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { certificate, design, fitting, holdRelease, reading, rework, run, unit, unitRevision } from '#db/schema/index'

export type FittingRow = typeof fitting.$inferSelect
export type ReadingRow = typeof reading.$inferSelect
export type ReworkRow = typeof rework.$inferSelect
export type ReleaseRow = typeof holdRelease.$inferSelect
export type MoveRow = typeof unitRevision.$inferSelect

/** The next number in the order of what happened to one unit. */
export function nextSeq(db: Db, unitId: string): number {
  const last = [reading, rework, holdRelease, unitRevision].map(
    (table) =>
      db
        .select({ last: max(table.seq) })
        .from(table)
        .where(eq(table.unitId, unitId))
        .get()?.last ?? 0,
  )
  return Math.max(...last) + 1
}

export const readingsOf = (db: Db, unitId: string): ReadingRow[] =>
  db.select().from(reading).where(eq(reading.unitId, unitId)).orderBy(asc(reading.seq)).all()

export const reworksOf = (db: Db, unitId: string): ReworkRow[] =>
  db.select().from(rework).where(eq(rework.unitId, unitId)).orderBy(asc(rework.seq)).all()

export const releasesOf = (db: Db, unitId: string): ReleaseRow[] =>
  db.select().from(holdRelease).where(eq(holdRelease.unitId, unitId)).orderBy(asc(holdRelease.seq)).all()

/** From revision to revision, in order. */
export const movesOf = (db: Db, unitId: string): MoveRow[] =>
  db.select().from(unitRevision).where(eq(unitRevision.unitId, unitId)).orderBy(asc(unitRevision.seq)).all()

export const insertMove = (db: Db, row: MoveRow): void => void db.insert(unitRevision).values(row).run()

/** Everything that was ever fitted to a unit, oldest first. */
export const fittingsOf = (db: Db, unitId: string): FittingRow[] =>
  db.select().from(fitting).where(eq(fitting.unitId, unitId)).orderBy(asc(fitting.at), asc(fitting.designator)).all()

export const insertFitting = (db: Db, row: FittingRow): void => void db.insert(fitting).values(row).run()

export const takeOut = (db: Db, id: string, out: Pick<FittingRow, 'outAt' | 'outByPersonId' | 'outReason' | 'outReworkId'>): void =>
  void db.update(fitting).set(out).where(eq(fitting.id, id)).run()

export const insertReading = (db: Db, row: ReadingRow): void => void db.insert(reading).values(row).run()

export const insertRework = (db: Db, row: ReworkRow): void => void db.insert(rework).values(row).run()

export const insertRelease = (db: Db, row: ReleaseRow): void => void db.insert(holdRelease).values(row).run()

/** The unit in which this piece sits now, by its tag. */
export const unitWithPiece = (db: Db, pieceId: string): { tag: string; designator: string } | undefined =>
  db
    .select({ tag: unit.tag, designator: fitting.designator })
    .from(fitting)
    .innerJoin(unit, eq(unit.id, fitting.unitId))
    .where(and(eq(fitting.pieceId, pieceId), isNull(fitting.outAt)))
    .get()

/**
 * What a good unit of the design reads, one reading for each check: the latest pass of another unit that holds a
 * certificate, else of any other.
 */
export const readingsElsewhere = (
  db: Db,
  designKey: string,
  unitId: string,
): { tag: string; checkKey: string; value: number; entry: string; isCertified: boolean }[] =>
  db
    .select({
      tag: unit.tag,
      checkKey: reading.checkKey,
      value: reading.value,
      entry: reading.entry,
      isCertified: sql<number>`${certificate.id} IS NOT NULL`,
      // With max() the other columns are those of the row that it is found in.
      rank: sql<number>`max((${certificate.id} IS NOT NULL) * 1e14 + ${reading.at})`,
    })
    .from(reading)
    .innerJoin(unit, eq(unit.id, reading.unitId))
    .innerJoin(run, eq(run.id, unit.runId))
    .innerJoin(design, eq(design.id, run.designId))
    .leftJoin(certificate, and(eq(certificate.unitId, unit.id), isNull(certificate.supersededBy), isNull(certificate.withdrawnAt)))
    .where(and(eq(design.key, designKey), ne(unit.id, unitId), eq(reading.verdict, 'pass'), eq(reading.whileSearching, false)))
    .groupBy(reading.checkKey)
    .all()
    .map(({ rank: _rank, isCertified, ...row }) => ({ ...row, isCertified: isCertified === 1 }))

/** Every reading that was taken with an instrument, the latest first. */
export const readingsBy = (db: Db, instrumentId: string) =>
  db
    .select({
      id: reading.id,
      tag: unit.tag,
      checkKey: reading.checkKey,
      entry: reading.entry,
      unit: reading.unit,
      expandedUncertainty: reading.expandedUncertainty,
      verdict: reading.verdict,
      isOverdue: reading.instrumentOverdue,
      at: reading.at,
      byPersonId: reading.byPersonId,
    })
    .from(reading)
    .innerJoin(unit, eq(unit.id, reading.unitId))
    .where(eq(reading.instrumentId, instrumentId))
    .orderBy(desc(reading.at), desc(reading.seq))
    .all()
