import { groupBy } from '#kernel/group'
import { earliest, type Instant } from '#kernel/instant'
import { showMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import { campaignNumber, forEveryCampaign, inCampaign, inEveryCampaign } from '#people/campaign/which.service'
import { NOT_KNOWN, type Reviewed, rewriteLetter } from '#people/outbox/outbox.service'
import { findPerson } from '#people/people/people.service'
import type { Sweep } from '#runtime/queue/ticker'
import { type Actor, once, type Sight, type Turn } from '#runtime/queue/turn'
import { getLotRow, getLotRowById } from '#sale/lots/lots.service'
import { lotsInWords } from '../journal/lot-words.rules'
import type { SoldLot } from '../journal/sold.contract'
import { listSoldLots } from '../journal/sold.service'
import { dayAfter, daysLate, type Falls, latestDay, morningOf, ripeReminder, whatFallsDue } from './due.rules'
import type { DueLine, InvoiceView, RemindIn } from './invoices.contract'
import { invoiceOf, paymentTerms } from './invoices.service'
import * as store from './invoices.store'
import { reminderLetter } from './words.rules'

/** What one buyer has still to pay under one reference: of one lot, or of several that are paid together. */
interface Standing {
  lots: (SoldLot & { buyerPersonId: string; lotId: string })[]
  first: SoldLot & { buyerPersonId: string; lotId: string }
  view: InvoiceView
  due: string
  owedMinor: number
  receivedMinor: number
  falls: Falls
  sent: store.ReminderRow[]
}

function listStanding(sight: Sight): Standing[] {
  const { zone } = getCampaign(sight)
  const { reminderDays, offerAfterDays } = paymentTerms(sight)
  const owing = listSoldLots(sight).flatMap(({ buyerPersonId, ...sold }) =>
    buyerPersonId === null || sold.state === 'fell through' || sold.owedMinor <= 0
      ? []
      : [{ ...sold, buyerPersonId, lotId: getLotRow(sight, sold.number).id }],
  )
  return [...groupBy(owing, ({ reference, buyerPersonId }) => `${reference} ${buyerPersonId}`).values()].flatMap((lots): Standing[] => {
    const [first] = lots
    if (!first) return []
    const view = invoiceOf(sight, first)
    const sum = (of: 'owedMinor' | 'receivedMinor') => lots.reduce((all, lot) => all + lot[of], 0)
    const due = latestDay(lots.map((lot) => invoiceOf(sight, lot).dueOn))
    const sent = store.listReminders(sight.db, first.lotId, first.buyerPersonId)
    const owedMinor = sum('owedMinor')
    const falls = whatFallsDue({ due, now: sight.now, zone, reminderDays, sent: sent.map(({ step }) => step), offerAfterDays, owedMinor })
    return [{ lots, first, view, due, owedMinor, receivedMinor: sum('receivedMinor'), falls, sent }]
  })
}

/** Everything that is not paid, the longest due first, with what falls due for it. */
export function listDue(sight: Sight): DueLine[] {
  const { zone } = getCampaign(sight)
  return listStanding(sight)
    .map(({ lots, first, due, owedMinor, receivedMinor, falls, sent }) => ({
      lot: first.number,
      lots: lots.map(({ number }) => number),
      title: lots.map(({ title }) => title).join('; '),
      buyer: first.buyer,
      paddle: first.paddle,
      owedMinor,
      receivedMinor,
      dueOn: due,
      daysLate: daysLate(due, sight.now, zone),
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
  const standing = standingOf(sight, number)
  const step = standing && ripeReminder(standing.falls)
  return standing && step ? proposed(sight, standing, step) : null
}

const standingOf = (sight: Sight, number: number): Standing | undefined =>
  listStanding(sight).find(({ lots }) => lots.some((lot) => lot.number === number))

function proposed(sight: Sight, { lots, first, view, due, owedMinor, receivedMinor }: Standing, step: number): Proposed {
  const { reminderDays, offerAfterDays } = paymentTerms(sight)
  const letter = reminderLetter(
    { ...view, dueOn: due, owedMinor, receivedMinor, what: whatIsOwedFor(lots) },
    {
      step,
      steps: reminderDays.length,
      offerOn: dayAfter(due, offerAfterDays),
      isOfferOpen: daysLate(due, sight.now, view.zone) >= offerAfterDays,
    },
    (minor) => showMoney(minor, view.currency),
    lots.length > 1 ? `${sight.publicUrl}/me/invoices` : `${sight.publicUrl}/me/won/${first.number}`,
  )
  return { lot: first.number, step, to: findPerson(sight, first.buyerPersonId)?.email ?? '', ...letter }
}

/** "lot 7, Saltmarsh receiver", or "lots 3 and 5". */
function whatIsOwedFor(lots: readonly { number: number; title: string }[]): string {
  const [first, ...others] = lots
  if (first && others.length === 0) return `lot ${first.number}, ${first.title}`
  return lotsInWords(lots.map(({ number }) => number))
}

/** A person sends the reminder that is due, in their own words if they like. */
export function sendReminder(turn: Turn, actor: Actor, input: RemindIn): void {
  once(turn, input.key, input, () => {
    const standing = standingOf(turn, input.lot)
    if (!standing)
      throw new Refusal('conflict', `Lot ${input.lot} is paid, or its sale has ended: there is nothing to remind anybody about.`)
    if (ripeReminder(standing.falls) !== input.step)
      throw new Refusal('conflict', 'That reminder has already gone out, or is not due yet. Reload the page.')
    send(turn, standing, input.step, input, actor.personId)
    return {}
  })
}

function send(turn: Turn, standing: Standing, step: number, letter: { subject: string; body: string }, byPersonId: string | null): void {
  const { lots, first } = standing
  const { subject, body } = letter
  const to = findPerson(turn, first.buyerPersonId)?.email
  const letterId = to ? turn.post({ to, subject, body }) : null
  for (const { number, lotId, buyerPersonId: personId } of lots) {
    // One that had this reminder while it stood alone is not given it twice.
    if (store.listReminders(turn.db, lotId, personId).some((one) => one.step === step)) continue
    store.keepReminder(turn.db, { lotId, personId, step, at: turn.now, byPersonId, subject, body, letterId, owedMinor: standing.owedMinor })
    turn.record({ kind: 'invoice.reminded', subject: `lot:${number}`, body: { number, step } })
  }
}

/**
 * What a reminder that waits says by now: it goes to nobody whose money has come, and asks for what is still owed. What
 * somebody of the staff wrote is theirs to write anew, so where a part of the money came that one falls due again.
 */
export function reviewReminder(turn: Turn, letterId: string): Reviewed {
  const reminders = store.listRemindersIn(turn.db, letterId)
  const [reminder] = reminders
  if (!reminder) return 'as it is'
  const { personId, step, byPersonId } = reminder
  // It is of the campaign of its lots, whichever is the present one by now.
  const seen = inCampaign(turn, getLotRowById(turn, reminder.lotId).campaignNumber)
  const isOf = ({ lotId, buyerPersonId }: Standing['first']) => buyerPersonId === personId && reminders.some((one) => one.lotId === lotId)
  const standing = listStanding(seen).find(({ lots }) => lots.some(isOf))
  if (!standing) return 'overtaken'
  const { owedMinor } = standing
  if (owedMinor === reminder.owedMinor) return 'as it is'
  if (byPersonId !== null) return 'overtaken'
  const { subject, body } = proposed(seen, standing, step)
  for (const one of reminders) store.keepReminder(turn.db, { ...one, subject, body, owedMinor })
  return { subject, body }
}

/** What is owed has changed: reminders that wait are withdrawn or say the new amount. */
export function reviewWaitingReminders(turn: Turn): void {
  for (const id of store.listWaitingReminders(turn.db, NOT_KNOWN)) rewriteLetter(turn, id, reviewReminder(turn, id))
}

/** The next morning on which a reminder leaves by itself; null where a person sends them, or none is to come. */
function nextMorning(sight: Sight): Instant | null {
  if (!store.findTerms(sight.db, campaignNumber(sight))?.remindersAlone) return null
  const { zone } = getCampaign(sight)
  const { reminderDays } = paymentTerms(sight)
  const mornings = listStanding(sight).flatMap(({ falls, due }) => {
    if (falls.is === 'waits') return [morningOf(falls.on, zone)]
    const step = ripeReminder(falls)
    return step === null ? [] : [morningOf(dayAfter(due, reminderDays[step - 1] ?? 0), zone)]
  })
  return mornings.length > 0 ? Math.min(...mornings) : null
}

export const paymentReminderSweep: Sweep = {
  name: 'reminders to pay',
  // What is owed from an earlier campaign is owed still.
  nextAt: (sight) => earliest(inEveryCampaign(sight, (seen) => [nextMorning(seen)])),
  run: (turn) => forEveryCampaign(turn, remindBuyers),
}

function remindBuyers(turn: Turn): void {
  if (!paymentTerms(turn).remindersAlone) return
  const { zone } = getCampaign(turn)
  const { reminderDays } = paymentTerms(turn)
  for (const standing of listStanding(turn)) {
    const step = ripeReminder(standing.falls)
    if (step === null) continue
    if (turn.now < morningOf(dayAfter(standing.due, reminderDays[step - 1] ?? 0), zone)) continue
    send(turn, standing, step, proposed(turn, standing, step), null)
  }
}
