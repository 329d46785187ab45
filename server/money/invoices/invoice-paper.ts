import type { SheetOrder } from '#paper/order'
import { makePaper, type Paper } from '#paper/paper'
import { REST, setTable, WIDTHS } from '#paper/table'
import { beside, CODE_ROOM, setPaymentCode } from './payment-code-drawing'

/** What is to pay for one lot by what the house knows today, before its invoice is issued. Money and days in words, as they are to be read. */
export interface InvoiceOrder extends SheetOrder {
  of: 'invoice'
  lot: number
  title: string
  unit: string
  buyer: string
  seller: string
  sellerAddress: string
  /** "a private person", "a trader", "the charity itself"; empty when nobody has said. */
  sellerKind: string
  /** "Ferry Lane Repair School, registered FL-2041; 90 % of the price goes to it." */
  cause: string
  /** The estimate published before bidding; empty when there was none. */
  estimate: string
  lines: readonly [what: string, amount: string][]
  owed: string
  received: string
  dueOn: string
  reference: string
  account: { name: string; iban: string; bic: string } | null
  /** The text of the payment code; null where there is none. */
  payment: string | null
  howToPay: string
  cancelWords: string
  soldOn: string
  isPaid: boolean
}

declare module '#paper/order' {
  interface Papers {
    invoice: InvoiceOrder
  }
}

export function setInvoice(order: InvoiceOrder): Promise<Buffer> {
  const { lot, size, author, at, lines } = order
  return makePaper(
    { title: `To pay for lot ${lot}`, author, date: new Date(at), size, identity: `LOT ${lot} · ${order.reference}` },
    (paper) => {
      paper.opening(`LOT ${lot} · ${order.unit}`, 'To pay', order.title)
      paper.text(
        'P',
        [{ text: 'Invoice to follow: it is issued once you have said to whom it is made out, and at the latest when it is paid.' }],
        { after: 6 },
      )
      const kind = order.sellerKind === '' ? '' : `, ${order.sellerKind}`
      paper.said('From.', `${order.seller}${kind}${order.sellerAddress === '' ? '' : `, ${order.sellerAddress}`}`)
      paper.said('To.', order.buyer)
      paper.said('Sold.', order.soldOn)
      paper.said('In aid of.', order.cause)
      if (order.estimate !== '') paper.said('Estimate published before bidding.', order.estimate)
      paper.y += 6
      setTable(
        paper,
        [
          { head: 'For', width: REST },
          { head: 'Amount', width: WIDTHS.sum, align: 'right' },
        ],
        lines.map(([what, amount]) => [{ spans: [{ text: what }] }, { spans: [{ text: amount, face: 'code' }] }]),
      )
      paper.y += 10
      setPayment(paper, order)
      paper.heading('Cancelling')
      paper.text('P', [{ text: order.cancelWords || 'Ask the seller. You keep any rights that the law of your country gives you.' }])
      paper.heading('Tax')
      paper.text('P', [
        {
          text: 'This is not a tax receipt and states no gift. Whether any part of the price can be a gift depends on your country: ask the tax office there.',
        },
      ])
    },
  )
}

/** What to pay, by when, under which reference; the code for a bank's program at the right of it, where there is one. */
function setPayment(paper: Paper, order: InvoiceOrder) {
  const hasCode = order.payment !== null
  paper.room(hasCode ? CODE_ROOM : 90)
  const width = hasCode ? beside(paper) : paper.width
  const top = paper.y
  paper.text('H2', [{ text: order.isPaid ? 'Paid in full' : `To pay: ${order.owed}`, face: 'bold' }], { size: 15, width, after: 3 })
  if (!order.isPaid) paper.text('P', [{ text: `by ${order.dueOn}` }], { size: 11, width, after: 6 })
  paper.said('Received so far.', order.received, { width })
  paper.text(
    'P',
    [
      { text: 'Payment reference ', face: 'bold' },
      { text: order.reference, face: 'codeBold' },
    ],
    { size: 11, width, after: 4 },
  )
  if (order.account) {
    paper.said('Account.', order.account.name, { width })
    paper.text(
      'P',
      [
        { text: 'IBAN ', face: 'bold' },
        { text: order.account.iban, face: 'code' },
      ],
      { width, after: 4 },
    )
    if (order.account.bic !== '')
      paper.text(
        'P',
        [
          { text: 'BIC ', face: 'bold' },
          { text: order.account.bic, face: 'code' },
        ],
        { width, after: 4 },
      )
  }
  paper.said('How to pay.', order.howToPay || 'The seller will tell you how.', { width })
  if (order.payment !== null)
    setPaymentCode(paper, top, {
      text: order.payment,
      words: '',
      alt: `Payment code for a bank's app: ${order.owed} under ${order.reference}`,
    })
}
