import { asc, eq, inArray, max } from 'drizzle-orm'
import type { Db } from '#db/open'
import { batchTest, batchWaiver, samplingPlan } from '#db/schema/index'

export type PlanRow = typeof samplingPlan.$inferSelect
export type TestRow = typeof batchTest.$inferSelect

export const planRows = (db: Db, batchIds: readonly string[]): PlanRow[] =>
  db
    .select()
    .from(samplingPlan)
    .where(inArray(samplingPlan.batchId, [...batchIds]))
    .all()

export type WaiverRow = typeof batchWaiver.$inferSelect

export const waiverRows = (db: Db, batchIds: readonly string[]): WaiverRow[] =>
  db
    .select()
    .from(batchWaiver)
    .where(inArray(batchWaiver.batchId, [...batchIds]))
    .all()

export const insertWaiver = (db: Db, row: WaiverRow): void => void db.insert(batchWaiver).values(row).run()

export const insertPlan = (db: Db, row: PlanRow): void => void db.insert(samplingPlan).values(row).run()

export const testRows = (db: Db, batchIds: readonly string[]): TestRow[] =>
  db
    .select()
    .from(batchTest)
    .where(inArray(batchTest.batchId, [...batchIds]))
    .orderBy(asc(batchTest.batchId), asc(batchTest.seq))
    .all()

export const nextTestSeq = (db: Db, batchId: string): number =>
  (db
    .select({ last: max(batchTest.seq) })
    .from(batchTest)
    .where(eq(batchTest.batchId, batchId))
    .get()?.last ?? 0) + 1

export const insertTest = (db: Db, row: TestRow): void => void db.insert(batchTest).values(row).run()
