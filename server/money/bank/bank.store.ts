import { and, asc, desc, eq, inArray, max } from 'drizzle-orm'
import type { Db } from '#db/open'
import { bankLine, bankMatch, bankStatement } from '#db/schema/index'

export type LineRow = typeof bankLine.$inferSelect

export const findLine = (db: Db, id: string): LineRow | undefined => db.select().from(bankLine).where(eq(bankLine.id, id)).get()
export const listOpen = (db: Db): LineRow[] =>
  db.select().from(bankLine).where(eq(bankLine.state, 'open')).orderBy(asc(bankLine.valueOn), asc(bankLine.seq)).all()
export const listSettled = (db: Db, most: number): LineRow[] =>
  db
    .select()
    .from(bankLine)
    .where(inArray(bankLine.state, ['placed', 'set aside']))
    .orderBy(desc(bankLine.settledAt), desc(bankLine.seq))
    .limit(most)
    .all()
export const isKept = (db: Db, digest: string, twin: number): boolean =>
  db
    .select({ id: bankLine.id })
    .from(bankLine)
    .where(and(eq(bankLine.digest, digest), eq(bankLine.twin, twin)))
    .get() !== undefined
export const highestSeq = (db: Db): number =>
  db
    .select({ top: max(bankLine.seq) })
    .from(bankLine)
    .get()?.top ?? 0
export const insertLine = (db: Db, row: typeof bankLine.$inferInsert): void => {
  db.insert(bankLine).values(row).run()
}
export const updateLine = (db: Db, id: string, change: Partial<LineRow>): void => {
  db.update(bankLine).set(change).where(eq(bankLine.id, id)).run()
}

export const listAll = (db: Db): LineRow[] => db.select().from(bankLine).orderBy(asc(bankLine.seq)).all()

export const listStatements = (db: Db) =>
  db.select().from(bankStatement).orderBy(desc(bankStatement.closesOn), desc(bankStatement.at)).all()
export const insertStatement = (db: Db, row: typeof bankStatement.$inferInsert): void => {
  db.insert(bankStatement).values(row).onConflictDoNothing().run()
}

export const listMatches = (db: Db) => db.select().from(bankMatch).all()
export const matchesOf = (db: Db, lineId: string) => db.select().from(bankMatch).where(eq(bankMatch.lineId, lineId)).all()
export const insertMatch = (db: Db, row: typeof bankMatch.$inferInsert): void => {
  db.insert(bankMatch).values(row).run()
}
export const deleteMatches = (db: Db, lineId: string): void => {
  db.delete(bankMatch).where(eq(bankMatch.lineId, lineId)).run()
}
