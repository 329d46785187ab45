import type Database from 'better-sqlite3'
import { Conflict, openPlace } from './place'

/**
 * A house that ended because another machine writes does not open by itself again: without NATS nothing would hold the two apart.
 * Whoever says that the other machine is gone for good opens it all the same, once and from then on.
 */
export function refuseOvertaken(handle: Database.Database, isOtherGone: boolean): void {
  const at = handle.prepare('SELECT overtaken_at FROM published_group WHERE overtaken_at IS NOT NULL').pluck().get()
  if (at === undefined) return
  if (isOtherGone) {
    openPlace(handle).overtaken(null)
    return
  }
  throw new Conflict(
    `This house ended at ${new Date(Number(at)).toISOString()} because another machine writes, or wrote, for it, and NATS_URL is not set, so nothing would keep the two apart. Set NATS_URL as on the other machine and start this one with npm run standby, on a fresh copy of the house. Only where the other machine is gone for good, and what it did since may be lost: npm start -- --alone.`,
  )
}
