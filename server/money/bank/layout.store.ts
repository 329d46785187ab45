import { and, desc, eq } from 'drizzle-orm'
import type { Db } from '#db/open'
import { bankLayout } from '#db/schema/index'

export type LayoutRow = typeof bankLayout.$inferSelect

export const listLayouts = (db: Db): LayoutRow[] => db.select().from(bankLayout).orderBy(desc(bankLayout.at), desc(bankLayout.id)).all()
export const insertLayout = (db: Db, row: typeof bankLayout.$inferInsert): void => {
  db.delete(bankLayout)
    .where(and(eq(bankLayout.headings, row.headings), eq(bankLayout.account, row.account)))
    .run()
  db.insert(bankLayout).values(row).run()
}
export const deleteLayout = (db: Db, id: string): boolean => db.delete(bankLayout).where(eq(bankLayout.id, id)).run().changes > 0
