import { asc, desc, eq, max } from 'drizzle-orm'
import type { Db } from '#db/open'
import { problem, problemNote } from '#db/schema/index'

export type ProblemRow = typeof problem.$inferSelect
export type NoteRow = typeof problemNote.$inferSelect

export const findProblem = (db: Db, id: string): ProblemRow | undefined => db.select().from(problem).where(eq(problem.id, id)).get()
export const listProblemsOf = (db: Db, lotId: string): ProblemRow[] =>
  db.select().from(problem).where(eq(problem.lotId, lotId)).orderBy(desc(problem.openedAt)).all()
export const listProblems = (db: Db): ProblemRow[] => db.select().from(problem).orderBy(asc(problem.openedAt)).all()
export const insertProblem = (db: Db, row: typeof problem.$inferInsert): void => {
  db.insert(problem).values(row).run()
}
export const updateProblem = (db: Db, id: string, change: Partial<ProblemRow>): void => {
  db.update(problem).set(change).where(eq(problem.id, id)).run()
}

export const listNotes = (db: Db, problemId: string): NoteRow[] =>
  db.select().from(problemNote).where(eq(problemNote.problemId, problemId)).orderBy(asc(problemNote.seq)).all()
export function insertNote(db: Db, row: Omit<typeof problemNote.$inferInsert, 'seq'>): void {
  const top = db
    .select({ top: max(problemNote.seq) })
    .from(problemNote)
    .where(eq(problemNote.problemId, row.problemId))
    .get()?.top
  db.insert(problemNote)
    .values({ ...row, seq: (top ?? -1) + 1 })
    .run()
}
