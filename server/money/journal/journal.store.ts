import { asc, eq } from 'drizzle-orm'
import type { Db } from '#db/open'
import { entry, jointReference, posting } from '#db/schema/index'
import type { Posting } from './journal.rules'
import type { JournalEntry } from './lot-account.rules'

export type EntryRow = typeof entry.$inferSelect
export type JournalRow = EntryRow & JournalEntry

/** The journal of a campaign in the order in which it was written; of all where none is named. A day has some hundred entries. */
export function readJournal(db: Db, campaign?: number): JournalRow[] {
  const lines = new Map<string, Posting[]>()
  for (const { entryId, account, amountMinor } of db.select().from(posting).orderBy(asc(posting.entryId), asc(posting.line)).all()) {
    const held = lines.get(entryId)
    if (held) held.push({ account, amountMinor })
    else lines.set(entryId, [{ account, amountMinor }])
  }
  const rows = db
    .select()
    .from(entry)
    .where(campaign === undefined ? undefined : eq(entry.campaignNumber, campaign))
    .orderBy(asc(entry.seq))
    .all()
  return rows.map((row) => ({ ...row, postings: lines.get(row.id) ?? [] }))
}

export const findEntry = (db: Db, id: string): EntryRow | null => db.select().from(entry).where(eq(entry.id, id)).get() ?? null

export const findCorrectionOf = (db: Db, id: string): EntryRow | null =>
  db.select().from(entry).where(eq(entry.correctsId, id)).get() ?? null

export const findLotEntries = (db: Db, lotId: string): EntryRow[] =>
  db.select().from(entry).where(eq(entry.lotId, lotId)).orderBy(asc(entry.seq)).all()

export const readPostings = (db: Db, entryId: string): Posting[] =>
  db
    .select({ account: posting.account, amountMinor: posting.amountMinor })
    .from(posting)
    .where(eq(posting.entryId, entryId))
    .orderBy(asc(posting.line))
    .all()

export function insertEntry(db: Db, row: Omit<EntryRow, 'seq'>, postings: readonly Posting[]): void {
  db.insert(entry).values(row).run()
  for (const [line, { account, amountMinor }] of postings.entries()) {
    db.insert(posting).values({ entryId: row.id, line, account, amountMinor }).run()
  }
}

export const listJointReferences = (db: Db) => db.select().from(jointReference).all()
export const insertJointReference = (db: Db, row: typeof jointReference.$inferInsert): void => {
  db.insert(jointReference).values(row).run()
}
