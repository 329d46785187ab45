import { and, eq, sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { preparedFor } from '#db/prepared'
import { part } from '#db/schema/index'

type Row = typeof part.$inferSelect

export const insertPart = (db: Db, row: Row): void => void db.insert(part).values(row).run()

export const findPartRow = (db: Db, id: string): Row | undefined => db.select().from(part).where(eq(part.id, id)).get()

export const findPartLike = (db: Db, sameness: string): Row | undefined => db.select().from(part).where(eq(part.sameness, sameness)).get()

/** Of a kind, those whose identity was made by the earlier rule; an index holds them alone. */
export const partRowsFromBefore = (db: Db, kind: Row['kind']): Row[] =>
  db
    .select()
    .from(part)
    .where(and(eq(part.kind, kind), sql`substr(${part.sameness}, 1, 2) <> '2|'`))
    .orderBy(part.at)
    .all()

export const updatePart = (db: Db, id: string, row: Partial<Row>): void => void db.update(part).set(row).where(eq(part.id, id)).run()

const many = preparedFor(({ $client }) => ({
  parts: $client.prepare<[string], Omit<Row, Flag> & Record<Flag, number>>(
    `SELECT id, kind, name, value, package, rating, programmed, socketed, hard_to_find AS hardToFind, image_sha256 AS imageSha256,
       idcode, sameness, at
     FROM part WHERE id IN (SELECT value FROM json_each(?))`,
  ),
}))
type Flag = 'programmed' | 'socketed' | 'hardToFind'

/** Of these there may be thousands. */
export const partRows = (db: Db, ids: readonly string[]): Row[] =>
  many(db)
    .parts.all(JSON.stringify(ids))
    .map((row) => ({ ...row, programmed: row.programmed === 1, socketed: row.socketed === 1, hardToFind: row.hardToFind === 1 }))

export const allPartRows = (db: Db): Row[] =>
  db.select().from(part).orderBy(part.kind, sql`${part.name} COLLATE NOCASE`, part.value, part.id).all()
