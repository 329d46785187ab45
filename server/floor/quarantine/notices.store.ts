import { and, asc, eq, isNull, sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { quarantineNotice } from '#db/schema/index'

export type NoticeRow = typeof quarantineNotice.$inferSelect

export const insertNotice = (db: Db, row: NoticeRow): void => void db.insert(quarantineNotice).values(row).run()

export const noticeRows = (db: Db): NoticeRow[] =>
  db.select().from(quarantineNotice).orderBy(asc(quarantineNotice.at), asc(sql`rowid`)).all()

export const noticeRowsOf = (db: Db, batchId: string): NoticeRow[] =>
  db.select().from(quarantineNotice).where(eq(quarantineNotice.batchId, batchId)).orderBy(asc(quarantineNotice.at)).all()

export const findNotice = (db: Db, id: string): NoticeRow | undefined =>
  db.select().from(quarantineNotice).where(eq(quarantineNotice.id, id)).get()

export const saveTold = (db: Db, id: string, told: Pick<NoticeRow, 'toldAt' | 'toldHow' | 'toldByPersonId'>): void =>
  void db.update(quarantineNotice).set(told).where(eq(quarantineNotice.id, id)).run()

/** What nobody was told yet need not be told any more. */
export const dropUntold = (db: Db, batchId: string): void =>
  void db
    .delete(quarantineNotice)
    .where(and(eq(quarantineNotice.batchId, batchId), isNull(quarantineNotice.toldAt)))
    .run()
