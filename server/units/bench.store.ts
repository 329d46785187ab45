import { and, asc, desc, eq, isNull, max, ne } from 'drizzle-orm'
import type { Db } from '../../db/open'
import { fitting, holdRelease, reading, rework, run, unit } from '../../db/schema'

export type FittingRow = typeof fitting.$inferSelect
export type ReadingRow = typeof reading.$inferSelect
export type ReworkRow = typeof rework.$inferSelect
export type ReleaseRow = typeof holdRelease.$inferSelect

/** The next number in the order of what happened to one unit. */
export function nextSeq(db: Db, unitId: string): number {
  const last = [reading, rework, holdRelease].map(
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

/** What other units of the design read, passes only, latest first. */
export const readingsElsewhere = (
  db: Db,
  designId: string,
  unitId: string,
): { tag: string; checkKey: string; value: number; entry: string }[] =>
  db
    .select({ tag: unit.tag, checkKey: reading.checkKey, value: reading.value, entry: reading.entry })
    .from(reading)
    .innerJoin(unit, eq(unit.id, reading.unitId))
    .innerJoin(run, eq(run.id, unit.runId))
    .where(and(eq(run.designId, designId), ne(unit.id, unitId), eq(reading.verdict, 'pass'), eq(reading.whileSearching, false)))
    .orderBy(desc(reading.at), desc(reading.seq))
    .all()
