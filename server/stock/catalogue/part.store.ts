import { and, eq, inArray, notLike, sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { part } from '#db/schema/index'

type Row = typeof part.$inferSelect

export const insertPart = (db: Db, row: Row): void => void db.insert(part).values(row).run()

export const findPartRow = (db: Db, id: string): Row | undefined => db.select().from(part).where(eq(part.id, id)).get()

export const findPartLike = (db: Db, sameness: string): Row | undefined => db.select().from(part).where(eq(part.sameness, sameness)).get()

/** Of a kind, those whose identity was made by the earlier rule. */
export const partRowsFromBefore = (db: Db, kind: Row['kind']): Row[] =>
  db
    .select()
    .from(part)
    .where(and(eq(part.kind, kind), notLike(part.sameness, '2|%')))
    .orderBy(part.at)
    .all()

export const updatePart = (db: Db, id: string, row: Partial<Row>): void => void db.update(part).set(row).where(eq(part.id, id)).run()

export const partRows = (db: Db, ids: readonly string[]): Row[] =>
  db
    .select()
    .from(part)
    .where(inArray(part.id, [...ids]))
    .all()

export const allPartRows = (db: Db): Row[] =>
  db.select().from(part).orderBy(part.kind, sql`${part.name} COLLATE NOCASE`, part.value, part.id).all()
