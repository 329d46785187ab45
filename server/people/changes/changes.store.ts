import { and, asc, count, desc, eq, isNull, lt, max, type SQL } from 'drizzle-orm'
import type { Db } from '#db/open'
import { changeRecord } from '#db/schema/index'
import { type ListChangesIn, THE_HOUSE } from './changes.contract'

export type ChangeRow = typeof changeRecord.$inferSelect

export const insertChange = (db: Db, row: Omit<ChangeRow, 'seq'>): void => {
  db.insert(changeRecord).values(row).run()
}

type Choice = Pick<ListChangesIn, 'kind' | 'by'>

const chosen = ({ kind, by }: Choice): SQL | undefined =>
  and(
    kind === null ? undefined : eq(changeRecord.kind, kind),
    by === null ? undefined : by === THE_HOUSE ? isNull(changeRecord.byPersonId) : eq(changeRecord.byPersonId, by),
  )

/** Newest first, from below an entry. */
export const listChangeRows = (db: Db, { below, ...choice }: ListChangesIn, most: number): ChangeRow[] =>
  db
    .select()
    .from(changeRecord)
    .where(and(chosen(choice), below === null ? undefined : lt(changeRecord.seq, below)))
    .orderBy(desc(changeRecord.seq))
    .limit(most)
    .all()

export const countChanges = (db: Db, choice: Choice): number =>
  db.select({ many: count() }).from(changeRecord).where(chosen(choice)).get()?.many ?? 0

/** All of them in the order in which they happened. */
export const listAllChanges = (db: Db): ChangeRow[] => db.select().from(changeRecord).orderBy(asc(changeRecord.seq)).all()

/** Everybody by the name under which they last changed something. */
export const listChangers = (db: Db): { id: string | null; name: string }[] =>
  db
    .select({ id: changeRecord.byPersonId, name: changeRecord.byName, last: max(changeRecord.seq) })
    .from(changeRecord)
    .groupBy(changeRecord.byPersonId)
    .all()

/** What something was last changed to; null where it never was. */
export const latestAfter = (db: Db, { kind, what }: { kind: ChangeRow['kind']; what: string }): string | null =>
  db
    .select({ after: changeRecord.after })
    .from(changeRecord)
    .where(and(eq(changeRecord.kind, kind), eq(changeRecord.what, what)))
    .orderBy(desc(changeRecord.seq))
    .limit(1)
    .get()?.after ?? null
