import { desc } from 'drizzle-orm'
import type { Db } from '#db/open'
import { contactDeletion, keepingTerms, lastLetter, packMade } from '#db/schema/index'

export type PackRow = typeof packMade.$inferSelect
export type DeletionRow = typeof contactDeletion.$inferSelect

/** A quarter of a year; common practice, no source. */
const CONTACT_DAYS = 90

export const contactDays = (db: Db): number => db.select().from(keepingTerms).get()?.contactDays ?? CONTACT_DAYS

export const keepTerm = (db: Db, contactDays: number): void =>
  void db.insert(keepingTerms).values({ id: 1, contactDays }).onConflictDoUpdate({ target: keepingTerms.id, set: { contactDays } }).run()

export const listDeletions = (db: Db): DeletionRow[] => db.select().from(contactDeletion).orderBy(desc(contactDeletion.at)).all()
export const insertDeletion = (db: Db, row: DeletionRow): void => void db.insert(contactDeletion).values(row).run()

export const listPacks = (db: Db): PackRow[] => db.select().from(packMade).orderBy(desc(packMade.at)).all()
export const insertPack = (db: Db, row: PackRow): void => void db.insert(packMade).values(row).run()

export const listLastLetters = (db: Db): (typeof lastLetter.$inferSelect)[] => db.select().from(lastLetter).all()
export const insertLastLetter = (db: Db, row: typeof lastLetter.$inferSelect): void =>
  void db.insert(lastLetter).values(row).onConflictDoNothing().run()
