import { DateTime } from 'luxon'
import { showMoney } from '#kernel/money'
import type { PaperSize } from '#paper/paper'
import { PRICE_BY, SOLD_BY } from '../journal/lot-words.rules'
import { showIban } from './iban.rules'
import type { InvoiceOrder } from './invoice-paper'
import type { InvoiceView } from './invoices.contract'
import { longDay } from './words.rules'

const SELLER_KINDS: Record<string, string> = { private: 'a private person', trader: 'a trader', charity: 'the charity itself' }

/** What is to pay for one lot, as it is printed before its invoice is issued. */
export function toPayOrder(view: InvoiceView, size: PaperSize): InvoiceOrder {
  const money = (minor: number) => showMoney(minor, view.currency)
  const day = DateTime.fromMillis(view.soldAt, { zone: view.zone }).toFormat('d LLLL yyyy')
  const registered = view.causeRegistration === '' ? '' : `, registered ${view.causeRegistration}`
  const share = view.shareBp === 10_000 ? 'the whole price goes to it' : `${view.shareBp / 100} % of the price goes to it`
  return {
    of: 'invoice',
    lot: view.lot,
    title: view.title,
    unit: view.unit,
    buyer: view.buyer,
    seller: view.seller,
    sellerAddress: view.sellerAddress,
    sellerKind: SELLER_KINDS[view.sellerKind] ?? '',
    cause: `${view.cause}${registered}; ${share}.`,
    estimate: view.estimate ? `${money(view.estimate.lowMinor)} to ${money(view.estimate.highMinor)}` : '',
    lines: [
      [`${view.title} (${view.unit}), ${PRICE_BY[view.by]}`, money(view.hammerMinor)],
      ...view.extras.map((extra): [string, string] => [`With it: ${extra}`, '']),
      [view.country === '' ? 'Postage' : `Postage to ${view.country}`, money(view.postageMinor)],
      ['Together', money(view.hammerMinor + view.postageMinor)],
    ],
    received: money(view.receivedMinor),
    owed: money(view.owedMinor),
    isPaid: view.owedMinor <= 0,
    dueOn: longDay(view.dueOn),
    reference: view.reference,
    account: view.account && { ...view.account, iban: showIban(view.account.iban) },
    payment: view.payment,
    howToPay: view.howToPay,
    cancelWords: view.cancelWords,
    soldOn: `${SOLD_BY[view.by].replace(/^./, (first) => first.toUpperCase())}, on ${day}.`,
    size,
    author: view.seller,
    at: view.soldAt,
  }
}
