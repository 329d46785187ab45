import type { Reaction } from '#runtime/queue/reactions'
import { HAMMER_FELL, hammer } from '#sale/lots/hammer.contract'
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

/** Money came, or a price changed: no reminder waits on for what is not owed any more. */
export const remindersAfterMoney: Reaction = {
  to: ['money.payment', 'money.release', 'money.reduction', 'money.reversal', 'money.postage', 'money.refund', 'money.corrected'],
  act: reviewWaitingReminders,
}
