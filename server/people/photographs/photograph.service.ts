import { eq } from 'drizzle-orm'
import { photograph, recording } from '#db/schema/index'
import { Refusal } from '#kernel/refusal'
import type { Sight } from '#runtime/queue/turn'

/** Whether the house keeps a photograph. */
export const isPhotographNamed = ({ db }: Sight, sha: string): boolean =>
  db.select({ sha: photograph.sha }).from(photograph).where(eq(photograph.sha, sha)).get() !== undefined

/** Whether the house keeps sound or video under this hash. */
export const isRecordingNamed = ({ db }: Sight, sha: string): boolean =>
  db.select({ sha: recording.sha }).from(recording).where(eq(recording.sha, sha)).get() !== undefined

/** Refuses at `field` a photograph that was never kept, so that no row names a picture that is not there. */
export function needPhotograph(sight: Sight, sha: string, field: string): void {
  if (!isPhotographNamed(sight, sha)) throw Refusal.at(field, 'The photograph was not saved. Take it again.')
}
