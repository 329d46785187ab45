import { and, asc, count, desc, eq, gte, isNotNull, isNull, lt, lte, min, notInArray, or, sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { letter } from '#db/schema/index'
import type { Instant } from '#kernel/instant'

/** The latest letters, newest first, with whether they have gone. */
export const listLetters = (db: Db, most = 200) => db.select().from(letter).orderBy(desc(letter.at)).limit(most).all()

export const findLetter = (db: Db, id: string) => db.select().from(letter).where(eq(letter.id, id)).get()

/** The letters to an address whose codes wait, newest first. */
export const listCodeLetters = (db: Db, recipient: string, since: Instant) =>
  db
    .select()
    .from(letter)
    .where(and(eq(letter.recipient, recipient), isNotNull(letter.sealedCode), gte(letter.at, since)))
    .orderBy(desc(letter.at))
    .all()

/** The letter that goes next: codes before all other mail, as long as they are good; then what was written first. */
export const nextLetter = (
  db: Db,
  { now, underWay, codesSince, mostTries }: { now: Instant; underWay: ReadonlySet<string>; codesSince: Instant; mostTries: number },
) =>
  db
    .select()
    .from(letter)
    .where(
      and(
        isNull(letter.sentAt),
        isNull(letter.withdrawnAt),
        lte(letter.nextTryAt, now),
        lt(letter.tries, mostTries),
        or(isNull(letter.sealedCode), gte(letter.at, codesSince)),
        notInArray(letter.id, [...underWay]),
      ),
    )
    .orderBy(sql`${letter.sealedCode} IS NULL`, asc(letter.at))
    .limit(1)
    .get()

interface Goes {
  codesSince: Instant
  mostTries: number
}

/** When the oldest of the letters was written that may still go; null where none waits. */
export const oldestWaiting = (db: Db, { codesSince, mostTries }: Goes): Instant | null =>
  db
    .select({ at: min(letter.at) })
    .from(letter)
    .where(
      and(
        isNull(letter.sentAt),
        isNull(letter.withdrawnAt),
        lt(letter.tries, mostTries),
        or(isNull(letter.sealedCode), gte(letter.at, codesSince)),
      ),
    )
    .get()?.at ?? null

/** How many letters written since then are not tried any more. */
export const countGivenUp = (db: Db, { since, mostTries }: Goes & { since: Instant }): number =>
  db
    .select({ many: count() })
    .from(letter)
    .where(and(isNull(letter.sentAt), isNull(letter.withdrawnAt), gte(letter.tries, mostTries), gte(letter.at, since)))
    .get()?.many ?? 0

export const updateLetter = (db: Db, id: string, change: Partial<typeof letter.$inferInsert>): void =>
  void db.update(letter).set(change).where(eq(letter.id, id)).run()

export const tryAgain = (db: Db, id: string, at: Instant): void =>
  void db.update(letter).set({ tries: 0, nextTryAt: at }).where(eq(letter.id, id)).run()
