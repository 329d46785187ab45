import { desc, eq } from 'drizzle-orm'
import type { Db } from '#db/open'
import { letter } from '#db/schema/index'
import type { Instant } from '#kernel/instant'

/** The latest letters, newest first, with whether they have gone. */
export const listLetters = (db: Db, most = 200) => db.select().from(letter).orderBy(desc(letter.at)).limit(most).all()

export const findLetter = (db: Db, id: string) => db.select().from(letter).where(eq(letter.id, id)).get()

export const tryAgain = (db: Db, id: string, at: Instant): void =>
  void db.update(letter).set({ tries: 0, nextTryAt: at }).where(eq(letter.id, id)).run()
