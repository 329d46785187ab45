import { and, asc, count, eq, isNull, sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { design, fault, fitting, observation, part, position, run, setCatch, testPoint, unit } from '#db/schema/index'
import type { PartKind } from '#stock/catalogue/part.contract'

export type FaultRow = typeof fault.$inferSelect
export type SetCatchRow = typeof setCatch.$inferSelect

export const findOpenRow = (db: Db, unitId: string): FaultRow | undefined =>
  db
    .select()
    .from(fault)
    .where(and(eq(fault.unitId, unitId), isNull(fault.closedAt)))
    .get()

export const countOpenRows = (db: Db): number => db.select({ all: count() }).from(fault).where(isNull(fault.closedAt)).get()?.all ?? 0

/** Every fault a unit has had, the latest first. */
export const faultsOf = (db: Db, unitId: string): FaultRow[] =>
  db.select().from(fault).where(eq(fault.unitId, unitId)).orderBy(sql`${fault.openedAt} desc`).all()

/** Closed faults of every unit made to a design of this key, whatever its revision. */
export const closedOf = (db: Db, designKey: string): FaultRow[] =>
  db
    .select({ fault })
    .from(fault)
    .innerJoin(unit, eq(unit.id, fault.unitId))
    .innerJoin(run, eq(run.id, unit.runId))
    .innerJoin(design, eq(design.id, run.designId))
    .where(and(eq(design.key, designKey), sql`${fault.closedAt} is not null`))
    .orderBy(asc(fault.closedAt))
    .all()
    .map((row) => row.fault)

export const insertFault = (db: Db, row: FaultRow): void => void db.insert(fault).values(row).run()

export const closeRow = (db: Db, id: string, change: Partial<FaultRow>): void =>
  void db.update(fault).set(change).where(eq(fault.id, id)).run()

export const catchRowsOf = (db: Db, designId: string): SetCatchRow[] =>
  db.select().from(setCatch).where(eq(setCatch.designId, designId)).orderBy(asc(setCatch.checkKey), asc(setCatch.block)).all()

export const putCatch = (db: Db, row: SetCatchRow): void =>
  void db
    .insert(setCatch)
    .values(row)
    .onConflictDoUpdate({ target: [setCatch.designId, setCatch.checkKey, setCatch.block], set: row })
    .run()

export const dropCatch = (db: Db, { designId, checkKey, block }: Pick<SetCatchRow, 'designId' | 'checkKey' | 'block'>): void =>
  void db
    .delete(setCatch)
    .where(and(eq(setCatch.designId, designId), eq(setCatch.checkKey, checkKey), eq(setCatch.block, block)))
    .run()

export const insertObservation = (db: Db, row: typeof observation.$inferSelect): void => void db.insert(observation).values(row).run()

/** What was ever seen at points of a unit, the oldest first. */
export const observationsOf = (db: Db, unitId: string): (typeof observation.$inferSelect)[] =>
  db.select().from(observation).where(eq(observation.unitId, unitId)).orderBy(asc(observation.at), sql`rowid`).all()

export const pointsOf = (db: Db, designKey: string): (typeof testPoint.$inferSelect)[] =>
  db.select().from(testPoint).where(eq(testPoint.designKey, designKey)).orderBy(asc(testPoint.point)).all()

export const putPoint = (db: Db, row: typeof testPoint.$inferSelect): void =>
  void db
    .insert(testPoint)
    .values(row)
    .onConflictDoUpdate({ target: [testPoint.designKey, testPoint.point], set: row })
    .run()

/** By kind of part: how many were ever fitted, and how many were the cause of a closed fault. */
export function kindRecord(db: Db): Map<PartKind, { fitted: number; bad: number }> {
  const record = new Map<PartKind, { fitted: number; bad: number }>()
  const fitted = db
    .select({ kind: part.kind, fitted: count() })
    .from(fitting)
    .innerJoin(unit, eq(unit.id, fitting.unitId))
    .innerJoin(run, eq(run.id, unit.runId))
    .innerJoin(position, and(eq(position.designId, run.designId), eq(position.designator, fitting.designator)))
    .innerJoin(part, eq(part.id, position.partId))
    .groupBy(part.kind)
    .all()
  for (const row of fitted) record.set(row.kind, { fitted: row.fitted, bad: 0 })
  const bad = db
    .select({ kind: part.kind, bad: count() })
    .from(fault)
    .innerJoin(unit, eq(unit.id, fault.unitId))
    .innerJoin(run, eq(run.id, unit.runId))
    .innerJoin(position, and(eq(position.designId, run.designId), eq(position.designator, fault.designator)))
    .innerJoin(part, eq(part.id, position.partId))
    .where(eq(fault.cause, 'part'))
    .groupBy(part.kind)
    .all()
  for (const row of bad) record.set(row.kind, { fitted: record.get(row.kind)?.fitted ?? 0, bad: row.bad })
  return record
}
