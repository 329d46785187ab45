import { asc, eq, inArray, max } from 'drizzle-orm'
import type { Db } from '#db/open'
import { inspection, piece } from '#db/schema/index'

export type PieceRow = typeof piece.$inferSelect
export type InspectionRow = typeof inspection.$inferSelect

export const nextPieceNumber = (db: Db): number =>
  (db
    .select({ last: max(piece.number) })
    .from(piece)
    .get()?.last ?? 0) + 1

export const insertPiece = (db: Db, row: PieceRow): void => void db.insert(piece).values(row).run()

export const updatePiece = (db: Db, id: string, change: Partial<PieceRow>): void =>
  void db.update(piece).set(change).where(eq(piece.id, id)).run()

export const deletePiece = (db: Db, id: string): void => void db.delete(piece).where(eq(piece.id, id)).run()

export const findPieceRow = (db: Db, id: string): PieceRow | undefined => db.select().from(piece).where(eq(piece.id, id)).get()

export const findPieceRowByTag = (db: Db, tag: string): PieceRow | undefined => db.select().from(piece).where(eq(piece.tag, tag)).get()

export const pieceRowsOf = (db: Db, batchIds: readonly string[]): PieceRow[] =>
  db
    .select()
    .from(piece)
    .where(inArray(piece.batchId, [...batchIds]))
    .orderBy(asc(piece.number))
    .all()

export const insertInspection = (db: Db, row: InspectionRow): void => void db.insert(inspection).values(row).run()

export const inspectionRows = (db: Db, pieceIds: readonly string[]): InspectionRow[] =>
  db
    .select()
    .from(inspection)
    .where(inArray(inspection.pieceId, [...pieceIds]))
    .orderBy(asc(inspection.pieceId), asc(inspection.seq))
    .all()
