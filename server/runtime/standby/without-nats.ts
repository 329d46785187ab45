import type Database from 'better-sqlite3'
import { Conflict, openPlace } from './place'

/**
 * For a house that opens without NATS_URL. Where its last run had it, another machine may have taken over, and would not be heard of: it
 * opens only for whoever says that none does. From then on the stream knows nothing of what it does, so it does not go on in it.
 */
export function refuseWithoutNats(handle: Database.Database, isAlone: boolean): void {
  const row = handle.prepare('SELECT stream, overtaken_at AS overtakenAt FROM published_group').get()
  const { stream, overtakenAt } = (row ?? { stream: '', overtakenAt: null }) as { stream: string; overtakenAt: number | null }
  if (stream === '' && overtakenAt === null) return
  if (isAlone) {
    openPlace(handle).forget()
    return
  }
  if (overtakenAt !== null)
    throw new Conflict(
      `This house ended at ${new Date(overtakenAt).toISOString()} because another machine writes, or wrote, for it, and NATS_URL is not set, so nothing would keep the two apart. Set NATS_URL as on the other machine and start this one with npm run standby, on a fresh copy of the house. Only where the other machine is gone for good, and what it did since may be lost: npm start -- --alone.`,
    )
  throw new Conflict(
    'This house told other machines what it does when it was open last, and NATS_URL is not set now: one of them may have taken over, and nothing would keep the two apart. Set NATS_URL as it was. Only where no other machine writes for this house any more, nor ever will: npm start -- --alone.',
  )
}
