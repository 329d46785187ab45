import { and, count, desc, eq, gt, isNotNull, isNull, lt, lte, or, sql, sum } from 'drizzle-orm'
import type { Db } from '#db/open'
import { codeRequest, letter } from '#db/schema/index'
import type { Instant } from '#kernel/instant'

/** An address and the browser that asked for it. */
export interface Whose {
  email: string
  browserHash: string
}

const of = ({ email, browserHash }: Whose) => and(eq(codeRequest.email, email), eq(codeRequest.browserHash, browserHash))

export const insertCode = (db: Db, row: Whose & { id: string; codeHash: string; at: Instant }): void => {
  db.insert(codeRequest).values(row).run()
}

export const countCodes = (db: Db, whose: Whose, since: Instant): number =>
  db
    .select({ n: count() })
    .from(codeRequest)
    .where(and(of(whose), gt(codeRequest.at, since)))
    .get()?.n ?? 0

export const latestCode = (db: Db, whose: Whose) =>
  db.select().from(codeRequest).where(of(whose)).orderBy(desc(codeRequest.at), desc(sql`rowid`)).limit(1).get()

export const wasTakenBefore = (db: Db, whose: Whose): boolean =>
  db
    .select({ id: codeRequest.id })
    .from(codeRequest)
    .where(and(of(whose), isNotNull(codeRequest.takenAt)))
    .get() !== undefined

export const countGuesses = (db: Db, email: string, since: Instant): number =>
  Number(
    db
      .select({ n: sum(codeRequest.guesses) })
      .from(codeRequest)
      .where(and(eq(codeRequest.email, email), gt(codeRequest.at, since)))
      .get()?.n ?? 0,
  )

export const noteGuess = (db: Db, id: string): void => {
  db.update(codeRequest)
    .set({ guesses: sql`${codeRequest.guesses} + 1` })
    .where(eq(codeRequest.id, id))
    .run()
}

export const noteTaken = (db: Db, id: string, takenAt: Instant): void => {
  db.update(codeRequest).set({ takenAt }).where(eq(codeRequest.id, id)).run()
}

/** Forgets what was asked for before: sooner where no code was taken, since that says nothing any more. */
export const forgetCodes = (db: Db, { untaken, all }: { untaken: Instant; all: Instant }): void => {
  db.delete(codeRequest)
    .where(or(and(isNull(codeRequest.takenAt), lte(codeRequest.at, untaken)), lte(codeRequest.at, all)))
    .run()
}

/** A letter whose code is too old is of use to nobody. */
export const dropOldCodeLetters = (db: Db, before: Instant): void => {
  db.delete(letter)
    .where(and(isNotNull(letter.sealedCode), lt(letter.at, before)))
    .run()
}
