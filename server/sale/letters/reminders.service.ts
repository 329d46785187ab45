import { civilOf } from '#kernel/civil'
import { type Instant, MINUTE } from '#kernel/instant'
import { showMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import { findPerson } from '#people/people/people.service'
import type { Sweep } from '#runtime/queue/ticker'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import * as store from '../fairness/fairness.store'
import { getLotRow, getLotRowById, type LotRow } from '../lots/lots.service'

/** How long before a closing the mail goes out (common practice). */
export const REMIND_BEFORE = 30 * MINUTE

/** Somebody wants a mail before a lot closes; asked for once, sent once, taken back at any time. */
export function askReminder(turn: Turn, { personId }: Actor, { lot, wanted }: { lot: number; wanted: boolean }): void {
  const row = getLotRow(turn, lot)
  if (!wanted) {
    store.deleteReminder(turn.db, row.id, personId)
    return
  }
  const isToCome = row.state === 'ready' || row.state === 'open' || row.state === 'held'
  if (!isToCome) throw new Refusal('too-late', 'There is no closing to come for this lot.')
  store.insertReminder(turn.db, { lotId: row.id, personId, at: turn.now })
}

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
      if ((row.closesAt ?? 0) > turn.now) remind(turn, row, personId)
    }
  },
}

function remind(turn: Turn, row: LotRow, personId: string): void {
  const to = findPerson(turn, personId)?.email
  if (!to) return
  const { zone, currency } = getCampaign(turn)
  const [, clock = ''] = civilOf(row.closesAt ?? turn.now, zone).split('T')
  const title = row.terms?.sale.title ?? row.title
  const price = row.standingMinor === null ? 'Nobody has bid on it yet.' : `It stands at ${showMoney(row.standingMinor, currency)}.`
  turn.post({
    to,
    subject: `Lot ${row.number} closes at ${clock}: ${title}`,
    body: `${title} closes at ${clock} (${zone}); a late bid moves that. ${price}\n\nThe lot: ${turn.publicUrl}/lots/${row.number}\n\nYou asked for this one mail.`,
  })
}
