import { and, asc, eq, max } from 'drizzle-orm'
import type { Db } from '#db/open'
import { lineSubstitute, partsLine } from '#db/schema/index'

export type SubstituteRow = typeof lineSubstitute.$inferSelect

/** In the order of preference, line by line. */
export const substituteRows = (db: Db, designId?: string): SubstituteRow[] =>
  db
    .select({
      lineId: lineSubstitute.lineId,
      partId: lineSubstitute.partId,
      rank: lineSubstitute.rank,
      reason: lineSubstitute.reason,
      at: lineSubstitute.at,
      byPersonId: lineSubstitute.byPersonId,
    })
    .from(lineSubstitute)
    .innerJoin(partsLine, eq(partsLine.id, lineSubstitute.lineId))
    .where(designId === undefined ? undefined : eq(partsLine.designId, designId))
    .orderBy(asc(partsLine.line), asc(lineSubstitute.rank))
    .all()

export const findLine = (db: Db, lineId: string): typeof partsLine.$inferSelect | undefined =>
  db.select().from(partsLine).where(eq(partsLine.id, lineId)).get()

export const nextRank = (db: Db, lineId: string): number =>
  (db
    .select({ last: max(lineSubstitute.rank) })
    .from(lineSubstitute)
    .where(eq(lineSubstitute.lineId, lineId))
    .get()?.last ?? 0) + 1

export const insertSubstitute = (db: Db, row: SubstituteRow): void => void db.insert(lineSubstitute).values(row).run()

export const deleteSubstitute = (db: Db, lineId: string, partId: string): void =>
  void db
    .delete(lineSubstitute)
    .where(and(eq(lineSubstitute.lineId, lineId), eq(lineSubstitute.partId, partId)))
    .run()
