import { eq } from 'drizzle-orm'
import type { Db } from '#db/open'
import { lastLetter } from '#db/schema/index'

type LastLetterRow = typeof lastLetter.$inferSelect

export const listLastLetters = (db: Db, campaign: number): LastLetterRow[] =>
  db.select().from(lastLetter).where(eq(lastLetter.campaignNumber, campaign)).all()

/** A donor who has a row keeps it: nobody is sent a second one in the same campaign. */
export const insertLastLetter = (db: Db, row: LastLetterRow): void => void db.insert(lastLetter).values(row).onConflictDoNothing().run()
