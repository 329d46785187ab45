import { showMoney } from '#kernel/money'
import type { SheetOrder } from '#paper/order'
import { makePaper, type Paper } from '#paper/paper'
import { REST, setTable, WIDTHS } from '#paper/table'
import { showIban } from '../invoices/iban.rules'
import { beside, CODE_ROOM, setPaymentCode } from '../invoices/payment-code-drawing'
import { longDay } from '../invoices/words.rules'
import { showCreditorReference } from '../journal/creditor-reference.rules'
import { documentTitle, showNumber } from './document-words.rules'
import type { DocumentContent } from './documents.contract'
import { taxSentence } from './tax.rules'

/** An invoice, a credit note or a corrected invoice, from nothing but what was kept of it when it was issued. */
export interface DocumentOrder extends SheetOrder {
  of: 'invoice-document'
  content: DocumentContent
}

declare module '#paper/order' {
  interface Papers {
    'invoice-document': DocumentOrder
  }
}

export function setDocument({ content, size, author, at }: DocumentOrder): Promise<Buffer> {
  const { number, kind, about, lines, seller, buyer, why } = content
  const title = documentTitle(content)
  const lots = [...new Set(lines.map(({ lot }) => lot))]
  return makePaper(
    { title, author, date: new Date(at), size, identity: `No. ${showNumber(number)} · ${showCreditorReference(content.reference)}` },
    (paper) => {
      const heads = { invoice: 'Invoice', 'credit note': 'Credit note', 'corrected invoice': 'Corrected invoice' }
      paper.opening(`No. ${showNumber(number)}`, heads[kind], lots.length === 1 ? `Lot ${lots[0]}` : `Lots ${lots.join(', ')}`)
      paper.said('Date of issue.', `${longDay(content.issuedOn)}.`)
      if (about)
        paper.said(
          'For invoice.',
          `No. ${showNumber(about.number)} of ${longDay(about.issuedOn)}, which it does not replace in the books but changes.`,
        )
      if (why !== '') paper.said('Reason.', why)
      setParties(paper, seller, buyer)
      for (const sold of content.sold)
        if (kind === 'invoice' || lots.some((lot) => sold.startsWith(`Lot ${lot}:`))) paper.said('Sold.', sold)
      paper.said('In aid of.', content.cause)
      if (kind !== 'credit note') for (const estimate of content.estimates) paper.said('Estimate published before bidding.', estimate)
      paper.y += 6
      setLines(paper, content)
      paper.y += 10
      if (kind !== 'credit note') setPayment(paper, content)
      else paper.text('P', [{ text: `Credited: ${showMoney(content.grossMinor, content.currency)}`, face: 'bold' }], { size: 13, after: 6 })
      paper.heading('Tax')
      paper.text('P', [{ text: taxSentence(content.tax) }], { after: 3 })
      paper.text('P', [
        {
          text: 'This document states no gift. Whether any part of the price can be one depends on your country: ask the tax office there.',
        },
      ])
      if (kind === 'credit note') return
      paper.heading('Cancelling')
      paper.text('P', [{ text: content.cancelWords || 'Ask the seller. You keep any rights that the law of your country gives you.' }])
    },
  )
}

const SELLER_KINDS = { '': '', private: 'a private person', trader: 'a trader', charity: 'the charity itself' } as const

/** Seller at the left, buyer at the right, each with their address in lines. */
function setParties(paper: Paper, seller: DocumentContent['seller'], buyer: DocumentContent['buyer']) {
  const width = (paper.width - 24) / 2
  paper.y += 4
  paper.room(90)
  const top = paper.y
  const column = (lead: string, rows: readonly string[], x: number) => {
    paper.y = top
    paper.text('P', [{ text: lead, face: 'bold' }], { width, x, after: 1 })
    for (const row of rows) paper.text('P', [{ text: row }], { width, x })
    return paper.y
  }
  const kind = SELLER_KINDS[seller.kind]
  const from = column('Seller', [seller.name, ...seller.address.split('\n'), kind && `(${kind})`].filter(Boolean), paper.left)
  const to = column('Buyer', [buyer.name, ...buyer.address.split('\n')].filter(Boolean), paper.left + width + 24)
  paper.y = Math.max(from, to) + 8
}

function setLines(paper: Paper, { lines, tax, grossMinor, taxMinor, differenceMinor, kind, currency }: DocumentContent) {
  const show = (minor: number) => showMoney(minor, currency)
  const hasTax = tax.taxScheme === 'rate'
  const sums = (what: string, gross: number, part: number, isBold = false) => [
    { spans: [{ text: what, ...(isBold && { face: 'bold' as const }) }] },
    ...(hasTax
      ? [{ spans: [{ text: show(gross - part), face: 'code' as const }] }, { spans: [{ text: show(part), face: 'code' as const }] }]
      : []),
    { spans: [{ text: show(gross), face: isBold ? ('codeBold' as const) : ('code' as const) }] },
  ]
  setTable(
    paper,
    [
      { head: 'For', width: REST },
      ...(hasTax
        ? [
            { head: 'Net', width: WIDTHS.price, align: 'right' as const },
            { head: `Tax, ${tax.taxRateBp / 100} %`, width: WIDTHS.price, align: 'right' as const },
          ]
        : []),
      { head: kind === 'credit note' ? 'Credited' : 'Amount', width: WIDTHS.price, align: 'right' },
    ],
    [
      ...lines.map(({ words, grossMinor: gross, taxMinor: part }) => sums(words, gross, part)),
      sums('Together', grossMinor, taxMinor, true),
    ],
  )
  if (kind !== 'corrected invoice' || differenceMinor === 0) return
  const words = differenceMinor > 0 ? 'more than the invoice that it corrects' : 'less than the invoice that it corrects'
  paper.y += 6
  paper.text('P', [{ text: `${show(Math.abs(differenceMinor))} ${words}.` }])
}

/** What to pay and where; at the right of it, where the account can be paid so, the code of what was still to pay on the date of issue. */
function setPayment(paper: Paper, { grossMinor, currency, dueOn, reference, account, howToPay, payment }: DocumentContent) {
  paper.room(payment ? CODE_ROOM : 110)
  const width = payment ? beside(paper) : paper.width
  const top = paper.y
  paper.text('H2', [{ text: `${showMoney(grossMinor, currency)}, due by ${longDay(dueOn)}`, face: 'bold' }], { size: 13, width, after: 4 })
  const row = (lead: string, text: string, face: 'code' | 'codeBold', size?: number) =>
    paper.text(
      'P',
      [
        { text: `${lead} `, face: 'bold' },
        { text, face },
      ],
      { width, after: 4, ...(size && { size }) },
    )
  row('Payment reference', showCreditorReference(reference), 'codeBold', 11)
  if (account) {
    paper.said('Account.', account.name, { width })
    row('IBAN', showIban(account.iban), 'code')
    if (account.bic !== '') row('BIC', account.bic, 'code')
  }
  paper.said('How to pay.', howToPay || 'The seller will tell you how.', { width })
  if (payment) {
    const amount = showMoney(payment.amountMinor, currency)
    setPaymentCode(paper, top, {
      text: payment.text,
      words: `: ${amount}, what was to pay on the date of issue`,
      alt: `Payment code for a bank's app: ${amount} under ${showCreditorReference(reference)}`,
    })
  }
  paper.text('P', [{ text: 'This sheet does not show what was paid before or after the date of issue; the seller’s books do.' }], {
    size: 8.5,
  })
}
