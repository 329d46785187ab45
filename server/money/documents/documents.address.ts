import { type Address, bytes, printed, sheetAsked } from '#runtime/call/address'
import type { Actor, Sight } from '#runtime/queue/turn'
import { lotNumberIn } from '#sale/lots/lot-number.rules'
import { findInvoiceFor, mayKeepBooks } from '../invoices/invoices.service'
import { toPayOrder } from '../invoices/to-pay-order'
import { listContracts } from '../journal/contracts.service'
import { wholeOf } from './chain.rules'
import { showNumber } from './document-words.rules'
import { chainOf, readChains } from './documents.service'
import * as store from './documents.store'
import { findSheet, orderOf } from './papers.service'

export const documentsAddresses: Address[] = [
  {
    path: '/lots/:number/invoices/:document.pdf',
    audience: 'signed in',
    answer(sight, { number = '', document = '' }, _query, actor) {
      if (!actor || !/^\d{1,9}$/.test(document)) return null
      return documentOf(sight, actor, lotNumberIn(number), Number(document))
    },
  },
  {
    // The invoice of the present contract, as it was corrected last; before it is issued, what is to pay.
    path: '/lots/:number/invoice.pdf',
    audience: 'signed in',
    answer(sight, { number = '' }, query, actor) {
      const lot = lotNumberIn(number)
      const view = actor ? findInvoiceFor(sight, actor, lot) : null
      if (!actor || !view) return null
      const contract = listContracts(sight).find((one) => one.lot === lot && one.isLast)
      const chain = contract && chainOf(readChains(sight), contract.entryId)
      const whole = chain && wholeOf(chain)
      return (
        (whole && documentOf(sight, actor, lot, whole.number)) ?? printed(toPayOrder(view, sheetAsked(query)), `lot-${number}-to-pay.pdf`)
      )
    },
  },
]

/** For the buyer to whom it was issued and for those who keep the books; its very bytes, once they were kept. */
function documentOf(sight: Sight, actor: Actor, lot: number, number: number) {
  const row = store.findDocument(sight.db, number)
  if (!row?.content.lines.some((line) => line.lot === lot)) return null
  if (row.personId !== actor.personId && !mayKeepBooks(actor)) return null
  const fileName = `${row.kind.replaceAll(' ', '-')}-${showNumber(number)}.pdf`
  const kept = findSheet(sight, number)
  return kept ? bytes('application/pdf', kept.bytes, fileName) : printed(orderOf(row.content, row.issuedAt), fileName)
}
