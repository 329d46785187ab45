import type { Instant } from '#kernel/instant'
import { showMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import { findPerson } from '#people/people/people.service'
import type { Sweep } from '#runtime/queue/ticker'
import { type Actor, once, type Sight, type Turn } from '#runtime/queue/turn'
import { getLotRow } from '#sale/lots/lots.service'
import type { SoldLot } from '../journal/sold.contract'
import { listSoldLots } from '../journal/sold.service'
import { dayAfter, type Falls, morningOf, whatFallsDue } from './due.rules'
import type { DueLine, InvoiceView, RemindIn } from './invoices.contract'
import { invoiceOf, paymentTerms } from './invoices.service'
import * as store from './invoices.store'
import { reminderLetter } from './words.rules'

interface Standing {
  sold: SoldLot & { buyerPersonId: string }
  view: InvoiceView
  lotId: string
  falls: Falls
  sent: store.ReminderRow[]
}

function listStanding(sight: Sight): Standing[] {
  const { zone } = getCampaign(sight)
  const { reminderDays, offerAfterDays } = paymentTerms(sight)
  return listSoldLots(sight).flatMap(({ buyerPersonId, ...sold }): Standing[] => {
    if (buyerPersonId === null || sold.state === 'fell through' || sold.owedMinor <= 0) return []
    const lotId = getLotRow(sight, sold.number).id
    const view = invoiceOf(sight, { ...sold, buyerPersonId })
    const sent = store.listReminders(sight.db, lotId, buyerPersonId)
    const falls = whatFallsDue({
      due: view.dueOn,
      now: sight.now,
      zone,
      reminderDays,
      sent: sent.map(({ step }) => step),
      offerAfterDays,
      owedMinor: sold.owedMinor,
    })
    return [{ sold: { ...sold, buyerPersonId }, view, lotId, falls, sent }]
  })
}

/** Every lot that is not paid, the longest due first, with what falls due for it. */
export function listDue(sight: Sight): DueLine[] {
  return listStanding(sight)
    .map(({ sold, view, falls, sent }) => ({
      lot: sold.number,
      title: sold.title,
      buyer: sold.buyer,
      paddle: sold.paddle,
      owedMinor: sold.owedMinor,
      dueOn: view.dueOn,
      daysLate: view.daysLate,
      falls,
      sent: sent.map(({ step, at, byPersonId }) => ({
        step,
        at,
        by: byPersonId === null ? null : (findPerson(sight, byPersonId)?.name ?? null),
      })),
    }))
    .sort((a, b) => b.daysLate - a.daysLate || a.lot - b.lot)
}

export interface Proposed {
  lot: number
  step: number
  to: string
  subject: string
  body: string
}

/** The reminder that falls due for a lot, as it would be read; null when none does. */
export function proposeReminder(sight: Sight, number: number): Proposed | null {
  const standing = listStanding(sight).find(({ sold }) => sold.number === number)
  return standing?.falls.is === 'reminder' ? proposed(sight, standing, standing.falls.step) : null
}

function proposed(sight: Sight, { sold, view }: Standing, step: number): Proposed {
  const { reminderDays, offerAfterDays } = paymentTerms(sight)
  const letter = reminderLetter(
    view,
    { step, steps: reminderDays.length, offerOn: dayAfter(view.dueOn, offerAfterDays) },
    (minor) => showMoney(minor, view.currency),
    `${sight.publicUrl}/me/won/${sold.number}`,
  )
  return { lot: sold.number, step, to: findPerson(sight, sold.buyerPersonId)?.email ?? '', ...letter }
}

/** A person sends the reminder that is due, in their own words if they like. */
export function sendReminder(turn: Turn, actor: Actor, input: RemindIn): void {
  once(turn, input.key, input, () => {
    const standing = listStanding(turn).find(({ sold }) => sold.number === input.lot)
    if (!standing)
      throw new Refusal('conflict', `Lot ${input.lot} is paid, or its sale has ended: there is nothing to remind anybody about.`)
    if (standing.falls.is !== 'reminder' || standing.falls.step !== input.step)
      throw new Refusal('conflict', 'That reminder has already gone out, or is not due yet. Reload the page.')
    send(turn, standing, input.step, input, actor.personId)
    return {}
  })
}

function send(turn: Turn, standing: Standing, step: number, letter: { subject: string; body: string }, byPersonId: string | null): void {
  const { sold, lotId } = standing
  const { subject, body } = letter
  store.insertReminder(turn.db, { lotId, personId: sold.buyerPersonId, step, at: turn.now, byPersonId, subject, body })
  turn.record({ kind: 'invoice.reminded', subject: `lot:${sold.number}`, body: { number: sold.number, step } })
  const to = findPerson(turn, sold.buyerPersonId)?.email
  if (to) turn.post({ to, subject, body })
}

/** The next morning on which a reminder leaves by itself; null where a person sends them, or none is to come. */
function nextMorning(sight: Sight): Instant | null {
  if (!store.findTerms(sight.db)?.remindersAlone) return null
  const { zone } = getCampaign(sight)
  const { reminderDays } = paymentTerms(sight)
  const mornings = listStanding(sight).flatMap(({ falls, view }) => {
    if (falls.is === 'waits') return [morningOf(falls.on, zone)]
    return falls.is === 'reminder' ? [morningOf(dayAfter(view.dueOn, reminderDays[falls.step - 1] ?? 0), zone)] : []
  })
  return mornings.length > 0 ? Math.min(...mornings) : null
}

export const paymentReminderSweep: Sweep = {
  name: 'reminders to pay',
  nextAt: nextMorning,
  run: (turn) => {
    if (!paymentTerms(turn).remindersAlone) return
    const { zone } = getCampaign(turn)
    const { reminderDays } = paymentTerms(turn)
    for (const standing of listStanding(turn)) {
      const { falls, view } = standing
      if (falls.is !== 'reminder') continue
      if (turn.now < morningOf(dayAfter(view.dueOn, reminderDays[falls.step - 1] ?? 0), zone)) continue
      send(turn, standing, falls.step, proposed(turn, standing, falls.step), null)
    }
  },
}
