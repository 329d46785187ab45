import { and, asc, eq, gte, inArray, isNotNull, isNull, lte, min, ne, or, sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { plainWrite } from '#db/plain'
import { preparedFor } from '#db/prepared'
import { letter, notice } from '#db/schema/index'
import type { Instant } from '#kernel/instant'
import type { NoticeKind } from './notices.rules'

export type NoticeRow = typeof notice.$inferSelect

// Written at each bid that takes the lead from somebody.
const insert = preparedFor((db) =>
  plainWrite<'id' | 'personId' | 'lotId' | 'kind' | 'at' | 'words' | 'sealedWords'>(
    db,
    db.insert(notice).values({
      id: sql.placeholder('id'),
      personId: sql.placeholder('personId'),
      lotId: sql.placeholder('lotId'),
      kind: sql.placeholder('kind'),
      at: sql.placeholder('at'),
      words: sql.placeholder('words'),
      sealedWords: sql.placeholder('sealedWords'),
    }),
  ),
)

interface NewNotice {
  id: string
  personId: string
  lotId: string
  kind: NoticeKind
  at: Instant
  words: string
  sealedWords: string | null
}

export const insertNotice = (db: Db, row: NewNotice): void => void insert(db)({ ...row })

/** When the oldest happened that waits to be told. */
export const oldestWaiting = (db: Db): Instant | null =>
  db
    .select({ at: min(notice.at) })
    .from(notice)
    .where(isNull(notice.gatheredAt))
    .get()?.at ?? null

/** For whom something waits since then or longer, as far as the longest waiting of so many things tells it. */
export const listWaitingSince = (db: Db, at: Instant, most: number): string[] => {
  const longest = db
    .select({ personId: notice.personId })
    .from(notice)
    .where(and(isNull(notice.gatheredAt), lte(notice.at, at)))
    .orderBy(asc(notice.at), sql`rowid`)
    .limit(most)
    .all()
  return [...new Set(longest.map(({ personId }) => personId))]
}

export const listWaitingOf = (db: Db, personId: string): NoticeRow[] =>
  db
    .select()
    .from(notice)
    .where(and(isNull(notice.gatheredAt), eq(notice.personId, personId)))
    .orderBy(asc(notice.at), sql`rowid`)
    .all()

/** What waits to be told, of those who happened since then. */
export const listWaitingFrom = (db: Db, at: Instant): NoticeRow[] =>
  db
    .select()
    .from(notice)
    .where(and(isNull(notice.gatheredAt), gte(notice.at, at)))
    .orderBy(asc(notice.at), sql`rowid`)
    .all()

export const changeWaiting = (db: Db, of: Pick<NoticeRow, 'personId' | 'lotId' | 'kind'>, words: string): void => {
  db.update(notice)
    .set({ words })
    .where(and(isNull(notice.gatheredAt), eq(notice.personId, of.personId), eq(notice.lotId, of.lotId), eq(notice.kind, of.kind)))
    .run()
}

export const markPushed = (db: Db, ids: readonly string[], pushedAt: Instant): void => {
  db.update(notice)
    .set({ pushedAt })
    .where(inArray(notice.id, [...ids]))
    .run()
}

export const listOfLetter = (db: Db, letterId: string): NoticeRow[] =>
  db.select().from(notice).where(eq(notice.letterId, letterId)).orderBy(asc(notice.at), sql`rowid`).all()

/** The letter with what was told to somebody before that waits in the outbox, and of which none can have gone out yet. */
export const findWaitingLetter = (db: Db, personId: string, { given, mostTries }: { given: string; mostTries: number }): string | null =>
  db
    .select({ id: letter.id })
    .from(letter)
    .innerJoin(notice, eq(notice.letterId, letter.id))
    .where(
      and(
        eq(notice.personId, personId),
        isNotNull(notice.letterId),
        isNull(letter.sentAt),
        isNull(letter.withdrawnAt),
        sql`${letter.tries} < ${mostTries}`,
        or(isNull(letter.lastError), ne(letter.lastError, given)),
      ),
    )
    .limit(1)
    .get()?.id ?? null

export const markGathered = (db: Db, ids: readonly string[], letterId: string | null, gatheredAt: Instant): void => {
  db.update(notice)
    .set({ letterId, gatheredAt })
    .where(inArray(notice.id, [...ids]))
    .run()
}
