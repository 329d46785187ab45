import { type Instant, MINUTE } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import type { Sweep } from '#runtime/queue/ticker'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { getLotRowById, type LotRow } from '../lots/lots.service'
import { getShownRow } from '../lots/shown-lot.service'
import { remindOfClosing } from './letters.service'
import * as store from './reminders.store'

/** How long before a closing the mail goes out (common practice). */
export const REMIND_BEFORE = 30 * MINUTE

/** Somebody wants a mail before a lot closes; asked for once, sent once, taken back at any time. */
export function askReminder(turn: Turn, { personId }: Actor, { lot, wanted }: { lot: number; wanted: boolean }): void {
  const row = getShownRow(turn, lot)
  if (!wanted) {
    store.deleteReminder(turn.db, row.id, personId)
    return
  }
  const isToCome = row.state === 'ready' || row.state === 'open' || row.state === 'held'
  if (!isToCome) throw new Refusal('too-late', 'There is no closing to come for this lot.')
  store.insertReminder(turn.db, { lotId: row.id, personId, at: turn.now })
}

export const hasReminder = (sight: Sight, lotId: string, personId: string): boolean => store.hasReminder(sight.db, lotId, personId)

/** Who wants to be reminded of a lot. */
export const listReminded = (sight: Sight, lotId: string): string[] =>
  store.listRemindersOfLot(sight.db, lotId).map(({ personId }) => personId)

/** A lot on hold has no closing to be reminded of until it goes on. */
const dueAt = ({ state, closesAt }: LotRow): Instant | null =>
  (state === 'open' || state === 'ready') && closesAt !== null ? closesAt - REMIND_BEFORE : null

export const reminderSweep: Sweep = {
  name: 'reminders',
  nextAt: (sight: Sight) => {
    const due = store.listUnsentReminders(sight.db).flatMap(({ lotId }) => dueAt(getLotRowById(sight, lotId)) ?? [])
    return due.length > 0 ? Math.min(...due) : null
  },
  run: (turn) => {
    for (const { lotId, personId } of store.listUnsentReminders(turn.db)) {
      const row = getLotRowById(turn, lotId)
      const due = dueAt(row)
      if (due === null || due > turn.now) continue
      store.markReminded(turn.db, lotId, personId, turn.now)
      if ((row.closesAt ?? 0) > turn.now) remindOfClosing(turn, row, personId)
    }
  },
}
