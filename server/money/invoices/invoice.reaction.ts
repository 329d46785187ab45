import { z } from 'zod'
import type { Reaction } from '#runtime/queue/reactions'
import { tellOfSale } from '#sale/letters/letters.service'
import { HAMMER_FELL, hammer } from '#sale/lots/hammer.contract'
import { getLotRowById } from '#sale/lots/lots.service'
import { findEntry } from '../journal/entries.service'
import { mailInvoice } from './invoices.service'
import { reviewWaitingReminders } from './reminders.service'

/** The winner is sent the invoice; it says what the journal says, so it comes after the journal's own entry. */
export const invoiceToWinner: Reaction = {
  to: [HAMMER_FELL],
  act(turn, { body }) {
    const { number, winnerPersonId } = hammer.parse(body)
    if (winnerPersonId !== null) mailInvoice(turn, number)
  },
}

const reversed = z.object({ entry: z.string() })

/** Their sale fell through: its buyer hears it at once, on their devices and by letter; and if that is taken back, they hear that. */
export const fallenSaleToBuyer: Reaction = {
  to: ['money.reversal', 'money.corrected'],
  act(turn, { kind, body }) {
    const entry = findEntry(turn, reversed.parse(body).entry)
    if (entry?.kind !== 'reversal' || entry.lotId === null || entry.personId === null) return
    tellOfSale(turn, getLotRowById(turn, entry.lotId), entry.personId, kind === 'money.reversal' ? 'fell-through' : 'stands-again')
  },
}

/** Money came, or a price changed: no reminder waits on for what is not owed any more. */
export const remindersAfterMoney: Reaction = {
  to: ['money.payment', 'money.release', 'money.reduction', 'money.reversal', 'money.postage', 'money.refund', 'money.corrected'],
  act: reviewWaitingReminders,
}
