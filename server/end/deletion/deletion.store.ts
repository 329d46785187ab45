import { desc, eq } from 'drizzle-orm'
import type { Db } from '#db/open'
import { contactDeletion, keepingTerms } from '#db/schema/index'

type DeletionRow = typeof contactDeletion.$inferSelect

/** A quarter of a year; common practice, no source. */
const CONTACT_DAYS = 90

export const contactDays = (db: Db, campaign: number): number =>
  db.select().from(keepingTerms).where(eq(keepingTerms.id, campaign)).get()?.contactDays ?? CONTACT_DAYS

export const keepTerm = (db: Db, campaign: number, contactDays: number): void =>
  void db
    .insert(keepingTerms)
    .values({ id: campaign, contactDays })
    .onConflictDoUpdate({ target: keepingTerms.id, set: { contactDays } })
    .run()

/** The newest first. */
export const listDeletions = (db: Db): DeletionRow[] => db.select().from(contactDeletion).orderBy(desc(contactDeletion.at)).all()
export const insertDeletion = (db: Db, row: DeletionRow): void => void db.insert(contactDeletion).values(row).run()
