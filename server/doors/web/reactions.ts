import { namedCertificate } from '#floor/record/named-certificate.reaction'
import { documentsFollow, invoiceWhatIsPaid } from '#money/documents/documents.reaction'
import { priceAfterBooks } from '#money/fixed-price/price-after-books.reaction'
import { fallenSaleToBuyer, invoiceToWinner, remindersAfterMoney } from '#money/invoices/invoice.reaction'
import { hammerInJournal } from '#money/journal/hammer.reaction'
import type { Reaction } from '#runtime/queue/reactions'

/** What follows a fact in the same turn, in this order: an invoice says what the journal has. One line for each room's. */
export const REACTIONS: readonly Reaction[] = [
  hammerInJournal,
  invoiceToWinner,
  documentsFollow,
  invoiceWhatIsPaid,
  fallenSaleToBuyer,
  remindersAfterMoney,
  priceAfterBooks,
  namedCertificate,
]
