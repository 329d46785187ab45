import { asc, eq, isNull, max } from 'drizzle-orm'
import type { Db } from '#db/open'
import { invoiceDocument, invoicePaper } from '#db/schema/index'

export type DocumentRow = typeof invoiceDocument.$inferSelect

export const listDocuments = (db: Db): DocumentRow[] => db.select().from(invoiceDocument).orderBy(asc(invoiceDocument.number)).all()
export const findDocument = (db: Db, number: number): DocumentRow | undefined =>
  db.select().from(invoiceDocument).where(eq(invoiceDocument.number, number)).get()
export const nextNumber = (db: Db): number =>
  (db
    .select({ top: max(invoiceDocument.number) })
    .from(invoiceDocument)
    .get()?.top ?? 0) + 1
export const insertDocument = (db: Db, row: typeof invoiceDocument.$inferInsert): void => {
  db.insert(invoiceDocument).values(row).run()
}

export const findPaper = (db: Db, number: number) => db.select().from(invoicePaper).where(eq(invoicePaper.number, number)).get()
export const listDigests = (db: Db) => db.select({ number: invoicePaper.number, sha256: invoicePaper.sha256 }).from(invoicePaper).all()
export const insertPaper = (db: Db, row: typeof invoicePaper.$inferInsert): void => {
  db.insert(invoicePaper).values(row).onConflictDoNothing().run()
}
export const listWithoutPaper = (db: Db): DocumentRow[] =>
  db
    .select({ row: invoiceDocument })
    .from(invoiceDocument)
    .leftJoin(invoicePaper, eq(invoicePaper.number, invoiceDocument.number))
    .where(isNull(invoicePaper.number))
    .orderBy(asc(invoiceDocument.number))
    .all()
    .map(({ row }) => row)
