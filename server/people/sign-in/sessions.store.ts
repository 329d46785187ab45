import { and, desc, eq, lte, ne } from 'drizzle-orm'
import type { Db } from '#db/open'
import { session, sessionSecret } from '#db/schema/index'
import type { Instant } from '#kernel/instant'

export const listSessionRows = (db: Db, personId: string) =>
  db.select().from(session).where(eq(session.userId, personId)).orderBy(desc(session.updatedAt)).all()

/** Answers how many there were. */
export const deleteSession = (db: Db, personId: string, id: string): number =>
  db
    .delete(session)
    .where(and(eq(session.userId, personId), eq(session.id, id)))
    .run().changes

export const deleteSessionsBut = (db: Db, personId: string, id: string): number =>
  db
    .delete(session)
    .where(and(eq(session.userId, personId), ne(session.id, id)))
    .run().changes

export const deleteEndedSessions = (db: Db, before: Instant): void => {
  db.delete(session)
    .where(lte(session.expiresAt, new Date(before)))
    .run()
}

export const deleteAllSessions = (db: Db): void => {
  db.delete(session).run()
}

export const updateSession = (db: Db, id: string, change: { updatedAt?: Date; expiresAt?: Date; confirmedAt?: Date }): void => {
  db.update(session).set(change).where(eq(session.id, id)).run()
}

export const findSecretDigest = (db: Db): string | null => db.select().from(sessionSecret).get()?.digest ?? null

export const saveSecretDigest = (db: Db, digest: string): void => {
  db.insert(sessionSecret).values({ id: 1, digest }).onConflictDoUpdate({ target: sessionSecret.id, set: { digest } }).run()
}
