import { and, asc, eq, max } from 'drizzle-orm'
import type { Db } from '#db/open'
import { lotRecording, recording } from '#db/schema/index'

const shown = {
  seq: lotRecording.seq,
  sha: lotRecording.sha,
  kind: recording.kind,
  bytes: recording.bytes,
  caption: lotRecording.caption,
  description: lotRecording.description,
}

export const listRecordings = (db: Db, lotId: string) =>
  db
    .select(shown)
    .from(lotRecording)
    .innerJoin(recording, eq(recording.sha, lotRecording.sha))
    .where(eq(lotRecording.lotId, lotId))
    .orderBy(asc(lotRecording.seq))
    .all()

export function insertRecording(db: Db, lotId: string, row: { sha: string; caption: string; description: string }): void {
  const top = db
    .select({ top: max(lotRecording.seq) })
    .from(lotRecording)
    .where(eq(lotRecording.lotId, lotId))
    .get()?.top
  db.insert(lotRecording)
    .values({ lotId, seq: (top ?? -1) + 1, ...row })
    .run()
}

export const deleteRecording = (db: Db, lotId: string, seq: number): number =>
  db
    .delete(lotRecording)
    .where(and(eq(lotRecording.lotId, lotId), eq(lotRecording.seq, seq)))
    .run().changes
