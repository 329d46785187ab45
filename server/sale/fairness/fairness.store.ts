import { and, asc, eq, isNull, sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { plainRead, plainWrite } from '#db/plain'
import { preparedFor } from '#db/prepared'
import { alias, bid, bidTrace, disclosure, reminder, retractionRequest } from '#db/schema/index'
import type { Instant } from '#kernel/instant'

/** Asked at every bid, so it is built once for each database. */
const queries = preparedFor((db) => ({
  said: plainRead(
    db,
    ['personId'],
    db
      .select({ lotId: disclosure.lotId, kind: disclosure.kind })
      .from(disclosure)
      .where(eq(disclosure.personId, sql.placeholder('personId'))),
  ),
  trace: plainWrite<keyof typeof bidTrace.$inferInsert>(
    db,
    db
      .insert(bidTrace)
      .values({
        personId: sql.placeholder('personId'),
        lotId: sql.placeholder('lotId'),
        kind: sql.placeholder('kind'),
        hash: sql.placeholder('hash'),
        at: sql.placeholder('at'),
      })
      .onConflictDoNothing(),
  ),
}))

/** Household and hands-on work, with this lot or the whole sale. */
export const isConnected = (db: Db, personId: string, lotId: string): boolean =>
  queries(db)
    .said({ personId })
    .some((one) => (one.lotId === lotId || one.lotId === null) && (one.kind === 'household' || one.kind === 'worked'))

export const insertDisclosure = (db: Db, row: typeof disclosure.$inferInsert): void => {
  db.insert(disclosure).values(row).run()
}
export const listDisclosuresOf = (db: Db, personId: string) =>
  db.select().from(disclosure).where(eq(disclosure.personId, personId)).orderBy(asc(disclosure.at)).all()
export const listDisclosures = (db: Db) => db.select().from(disclosure).orderBy(asc(disclosure.at)).all()

/** True when it was not there yet. */
export const insertTrace = (db: Db, row: typeof bidTrace.$inferInsert): boolean => queries(db).trace(row).changes > 0
export const listTraces = (db: Db) => db.select().from(bidTrace).orderBy(asc(bidTrace.at)).all()
export const deleteTraces = (db: Db): void => {
  db.delete(bidTrace).run()
}
export const hasTraces = (db: Db): boolean => db.select({ at: bidTrace.at }).from(bidTrace).limit(1).get() !== undefined

export const insertRetraction = (db: Db, row: typeof retractionRequest.$inferInsert): void => {
  db.insert(retractionRequest).values(row).onConflictDoNothing().run()
}
export const hasAskedRetraction = (db: Db, lotId: string, personId: string): boolean =>
  db
    .select({ at: retractionRequest.at })
    .from(retractionRequest)
    .where(and(eq(retractionRequest.lotId, lotId), eq(retractionRequest.personId, personId)))
    .get() !== undefined
export const hasReminder = (db: Db, lotId: string, personId: string): boolean =>
  db
    .select({ at: reminder.at })
    .from(reminder)
    .where(and(eq(reminder.lotId, lotId), eq(reminder.personId, personId)))
    .get() !== undefined
export const insertReminder = (db: Db, row: { lotId: string; personId: string; at: Instant }): void => {
  db.insert(reminder).values(row).onConflictDoNothing().run()
}
export const deleteReminder = (db: Db, lotId: string, personId: string): void => {
  db.delete(reminder)
    .where(and(eq(reminder.lotId, lotId), eq(reminder.personId, personId)))
    .run()
}
export const listRemindersOfLot = (db: Db, lotId: string) => db.select().from(reminder).where(eq(reminder.lotId, lotId)).all()
export const listUnsentReminders = (db: Db) => db.select().from(reminder).where(isNull(reminder.sentAt)).all()
export const markReminded = (db: Db, lotId: string, personId: string, sentAt: Instant): void => {
  db.update(reminder)
    .set({ sentAt })
    .where(and(eq(reminder.lotId, lotId), eq(reminder.personId, personId)))
    .run()
}
export const listRetractions = (db: Db) => db.select().from(retractionRequest).orderBy(asc(retractionRequest.at)).all()

/** Every bid with its lot and who made it, in order of arrival: what the patterns are read from. */
export const listAllBids = (db: Db) =>
  db
    .select({ lotId: bid.lotId, personId: bid.personId, sequence: bid.sequence, maximumMinor: bid.maximumMinor, voidedAt: alias.voidedAt })
    .from(bid)
    .innerJoin(alias, and(eq(alias.lotId, bid.lotId), eq(alias.personId, bid.personId)))
    .orderBy(asc(bid.lotId), asc(bid.sequence))
    .all()
