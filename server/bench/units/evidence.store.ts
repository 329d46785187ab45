import { and, asc, eq, inArray, isNotNull, isNull } from 'drizzle-orm'
import type { Db } from '#db/open'
import { evidence, keptFile, recording, unit } from '#db/schema/index'

export type EvidenceRow = typeof evidence.$inferSelect
export type KeptFileRow = typeof keptFile.$inferSelect

export const insertEvidence = (db: Db, row: EvidenceRow): void => void db.insert(evidence).values(row).run()

/** What is kept of a unit and was not taken away, the oldest first. */
export const evidenceOf = (db: Db, unitId: string): EvidenceRow[] =>
  db
    .select()
    .from(evidence)
    .where(and(eq(evidence.unitId, unitId), isNull(evidence.takenAwayAt)))
    .orderBy(asc(evidence.at), asc(evidence.id))
    .all()

export const findEvidence = (db: Db, id: string): EvidenceRow | undefined => db.select().from(evidence).where(eq(evidence.id, id)).get()

export const tagOfUnit = (db: Db, id: string): string => db.select({ tag: unit.tag }).from(unit).where(eq(unit.id, id)).get()?.tag ?? ''

export const setEvidence = (db: Db, id: string, set: Partial<Pick<EvidenceRow, 'shownAt' | 'takenAwayAt'>>): void =>
  void db.update(evidence).set(set).where(eq(evidence.id, id)).run()

/** Whether a file is shown to everybody somewhere. */
export const isShownSomewhere = (db: Db, sha: string): boolean =>
  db
    .select({ id: evidence.id })
    .from(evidence)
    .where(and(eq(evidence.sha, sha), isNotNull(evidence.shownAt), isNull(evidence.takenAwayAt)))
    .get() !== undefined

export const insertKeptFile = (db: Db, row: KeptFileRow): void => void db.insert(keptFile).values(row).onConflictDoNothing().run()

export const findKeptFile = (db: Db, sha: string, kind: KeptFileRow['kind']): KeptFileRow | undefined =>
  db
    .select()
    .from(keptFile)
    .where(and(eq(keptFile.sha, sha), eq(keptFile.kind, kind)))
    .get()

export const keptFilesOf = (db: Db, shas: readonly string[]): KeptFileRow[] =>
  shas.length === 0
    ? []
    : db
        .select()
        .from(keptFile)
        .where(inArray(keptFile.sha, [...new Set(shas)]))
        .all()

export const recordingSizes = (db: Db, shas: readonly string[]): Map<string, number> =>
  new Map(
    shas.length === 0
      ? []
      : db
          .select({ sha: recording.sha, bytes: recording.bytes })
          .from(recording)
          .where(inArray(recording.sha, [...new Set(shas)]))
          .all()
          .map(({ sha, bytes }) => [sha, bytes] as const),
  )
