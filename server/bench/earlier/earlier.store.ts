import { asc, desc, eq } from 'drizzle-orm'
import type { Db } from '#db/open'
import { earlierMachine } from '#db/schema/index'

export type EarlierRow = typeof earlierMachine.$inferSelect

export const insertEarlier = (db: Db, row: EarlierRow): void => void db.insert(earlierMachine).values(row).run()

/** By design, the newest first. */
export const earlierRows = (db: Db): EarlierRow[] =>
  db
    .select()
    .from(earlierMachine)
    .orderBy(asc(earlierMachine.design), desc(earlierMachine.builtOn), asc(earlierMachine.serial), earlierMachine.id)
    .all()

export const deleteEarlier = (db: Db, id: string): number => db.delete(earlierMachine).where(eq(earlierMachine.id, id)).run().changes
