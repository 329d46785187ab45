import type { Reaction } from '#runtime/queue/reactions'
import { HAMMER_FELL, hammer } from '#sale/lots/hammer.contract'
import { mailInvoice } from './invoices.service'

/** The winner is sent the invoice; it says what the journal says, so it comes after the journal's own entry. */
export const invoiceToWinner: Reaction = {
  to: [HAMMER_FELL],
  act(turn, { body }) {
    const { number, winnerPersonId } = hammer.parse(body)
    if (winnerPersonId !== null) mailInvoice(turn, number)
  },
}
