import { and, asc, eq, sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { boardPhotograph, boardPin, photograph } from '#db/schema/index'

type PinRow = typeof boardPin.$inferSelect

export const photographsOf = (db: Db, designKey: string) =>
  db
    .select({ sha: boardPhotograph.photoSha, words: boardPhotograph.words, width: photograph.width, height: photograph.height })
    .from(boardPhotograph)
    .innerJoin(photograph, eq(photograph.sha, boardPhotograph.photoSha))
    .where(eq(boardPhotograph.designKey, designKey))
    .orderBy(asc(boardPhotograph.at), sql`${boardPhotograph}.rowid`)
    .all()

export const pinsOf = (db: Db, designKey: string): PinRow[] =>
  db.select().from(boardPin).where(eq(boardPin.designKey, designKey)).orderBy(asc(boardPin.mark)).all()

export const insertPhotograph = (db: Db, row: typeof boardPhotograph.$inferSelect): void =>
  void db.insert(boardPhotograph).values(row).run()

/** Its pins go with it. */
export const deletePhotograph = (db: Db, designKey: string, photoSha: string): void =>
  void db
    .delete(boardPhotograph)
    .where(and(eq(boardPhotograph.designKey, designKey), eq(boardPhotograph.photoSha, photoSha)))
    .run()

export const putPin = (db: Db, row: PinRow): void =>
  void db
    .insert(boardPin)
    .values(row)
    .onConflictDoUpdate({ target: [boardPin.designKey, boardPin.photoSha, boardPin.mark], set: row })
    .run()

export const deletePin = (db: Db, { designKey, photoSha, mark }: Pick<PinRow, 'designKey' | 'photoSha' | 'mark'>): void =>
  void db
    .delete(boardPin)
    .where(and(eq(boardPin.designKey, designKey), eq(boardPin.photoSha, photoSha), eq(boardPin.mark, mark)))
    .run()
