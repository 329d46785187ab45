import { eq, inArray, sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { part } from '#db/schema/index'

type Row = typeof part.$inferSelect

export const insertPart = (db: Db, row: Row): void => void db.insert(part).values(row).run()

export const findPartRow = (db: Db, id: string): Row | undefined => db.select().from(part).where(eq(part.id, id)).get()

export const findPartLike = (db: Db, sameness: string): Row | undefined => db.select().from(part).where(eq(part.sameness, sameness)).get()

export const partRows = (db: Db, ids: readonly string[]): Row[] =>
  db
    .select()
    .from(part)
    .where(inArray(part.id, [...ids]))
    .all()

export const allPartRows = (db: Db): Row[] =>
  db.select().from(part).orderBy(part.kind, sql`${part.name} COLLATE NOCASE`, part.value, part.id).all()
