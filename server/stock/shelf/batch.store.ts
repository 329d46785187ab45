import { asc, desc, eq, inArray, max, sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { batch, batchChange } from '#db/schema/index'

export type BatchRow = typeof batch.$inferSelect
export type BatchChangeRow = typeof batchChange.$inferSelect

export const nextBatchNumber = (db: Db): number =>
  (db
    .select({ last: max(batch.number) })
    .from(batch)
    .get()?.last ?? 0) + 1

export const insertBatch = (db: Db, row: BatchRow): void => void db.insert(batch).values(row).run()

export const updateBatch = (db: Db, id: string, change: Partial<BatchRow>): void =>
  void db.update(batch).set(change).where(eq(batch.id, id)).run()

export const findBatchRow = (db: Db, id: string): BatchRow | undefined => db.select().from(batch).where(eq(batch.id, id)).get()

export const findBatchRowByCode = (db: Db, code: string): BatchRow | undefined => db.select().from(batch).where(eq(batch.code, code)).get()

export const batchRows = (db: Db, ids: readonly string[]): BatchRow[] =>
  db
    .select()
    .from(batch)
    .where(inArray(batch.id, [...ids]))
    .orderBy(asc(batch.number))
    .all()

export const batchRowsOfGifts = (db: Db, giftIds: readonly string[]): BatchRow[] =>
  db
    .select()
    .from(batch)
    .where(inArray(batch.giftId, [...giftIds]))
    .orderBy(asc(batch.number))
    .all()

export const allBatchRows = (db: Db, partId?: string): BatchRow[] =>
  db
    .select()
    .from(batch)
    .where(partId === undefined ? undefined : eq(batch.partId, partId))
    .orderBy(desc(batch.number))
    .all()

export const insertBatchChange = (db: Db, row: BatchChangeRow): void => void db.insert(batchChange).values(row).run()

export const batchChangeRows = (db: Db, batchIds: readonly string[]): BatchChangeRow[] =>
  db
    .select()
    .from(batchChange)
    .where(inArray(batchChange.batchId, [...batchIds]))
    .orderBy(asc(batchChange.at), asc(sql`rowid`))
    .all()
