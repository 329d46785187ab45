import { and, asc, eq } from 'drizzle-orm'
import type { Db } from '#db/open'
import { passkey } from '#db/schema/index'

// Rows are added by the sign-in library, which has checked what the device signed.

export const listPasskeyRows = (db: Db, personId: string) =>
  db.select().from(passkey).where(eq(passkey.userId, personId)).orderBy(asc(passkey.createdAt)).all()

const own = (personId: string, id: string) => and(eq(passkey.userId, personId), eq(passkey.id, id))

/** Answers how many there were. */
export const updatePasskey = (db: Db, personId: string, id: string, change: { name: string }): number =>
  db.update(passkey).set(change).where(own(personId, id)).run().changes

export const deletePasskey = (db: Db, personId: string, id: string): number => db.delete(passkey).where(own(personId, id)).run().changes
