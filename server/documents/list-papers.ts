import { makePaper, type Paper, type PaperSize } from './paper'
import { setTable } from './table'

interface Common {
  size: PaperSize
  author: string
  at: number
}

/** What goes into one parcel, to be ticked; from the lot as it stands. */
export interface PackingOrder extends Common {
  of: 'packing'
  lot: number
  title: string
  items: readonly { what: string; note: string }[]
  facts: readonly [name: string, words: string][]
  cautions: readonly string[]
}

export function setPackingList(order: PackingOrder): Promise<Buffer> {
  const { lot, title, size, author, at, items, facts, cautions } = order
  return makePaper({ title: `Packing list, lot ${lot}`, author, date: new Date(at), size, identity: `LOT ${lot}` }, (paper) => {
    head(paper, `LOT ${lot}`, 'Packing list', title)
    setTable(
      paper,
      [
        { head: 'Packed', width: 60 },
        { head: 'What', width: (paper.width - 60) * 0.55 },
        { head: 'Note', width: (paper.width - 60) * 0.45 },
      ],
      items.map(({ what, note }) => [
        {
          figure: {
            alt: `To tick: ${what}`,
            draw: (box) =>
              void paper.doc
                .rect(box.x, box.y + box.height / 2 - 6, 12, 12)
                .lineWidth(1)
                .strokeColor('#18272a')
                .stroke(),
          },
        },
        { spans: [{ text: what }] },
        { spans: [{ text: note, colour: '#53605d' }] },
      ]),
    )
    paper.heading('The parcel')
    for (const [name, words] of facts) paper.said(`${name}.`, words)
    for (const caution of cautions) paper.said('Caution.', caution)
    paper.text('P', [{ text: 'Packed by ______________________   on ______________' }], { size: 11 })
  })
}

/** The invoice of one lot, with what the house knows of money today. */
export interface InvoiceOrder extends Common {
  of: 'invoice'
  lot: number
  title: string
  unit: string
  buyer: string
  seller: string
  sellerAddress: string
  cause: string
  /** Money in words of the campaign's currency. */
  lines: readonly [what: string, amount: string][]
  owed: string
  received: string
  reference: string
  howToPay: string
  cancelWords: string
  closedOn: string
}

export function setInvoice(order: InvoiceOrder): Promise<Buffer> {
  const { lot, size, author, at, lines } = order
  return makePaper(
    { title: `Invoice for lot ${lot}`, author, date: new Date(at), size, identity: `LOT ${lot} · ${order.reference}` },
    (paper) => {
      head(paper, `LOT ${lot} · ${order.unit}`, 'Invoice', order.title)
      paper.said('From.', `${order.seller}, ${order.sellerAddress}`)
      paper.said('To.', order.buyer)
      paper.said('Sold.', `At auction on ${order.closedOn}, in aid of ${order.cause}.`, { after: 8 })
      setTable(
        paper,
        [
          { head: 'For', width: paper.width - 130 },
          { head: 'Amount', width: 130, align: 'right' },
        ],
        lines.map(([what, amount]) => [{ spans: [{ text: what }] }, { spans: [{ text: amount, face: 'code' }] }]),
      )
      paper.said('Received so far.', order.received, { after: 2 })
      paper.text('P', [{ text: `To pay now: ${order.owed}`, face: 'bold' }], { size: 13, after: 6 })
      paper.text('P', [{ text: 'Payment reference ' }, { text: order.reference, face: 'codeBold' }], { size: 11, after: 6 })
      paper.heading('How to pay')
      paper.text('P', [{ text: order.howToPay || 'The seller tells you how.' }])
      paper.heading('Cancelling')
      paper.text('P', [{ text: order.cancelWords || 'Ask the seller. What the law of your country gives you stays yours.' }])
      paper.heading('Tax')
      paper.text('P', [
        {
          text: 'This paper is no tax receipt and states no gift. Whether any part of the price can be a gift depends on your country: ask there.',
        },
      ])
    },
  )
}

/** A card for a donor who agreed to one: what became of the gifts, and no value of anything. */
export interface DonorCardOrder extends Common {
  of: 'donor-card'
  name: string
  campaign: string
  gifts: readonly string[]
}

export function setDonorCard({ name, campaign, gifts, author, at }: DonorCardOrder): Promise<Buffer> {
  return makePaper({ title: `Thanks to ${name}`, author, date: new Date(at), size: 'a6', margin: 24, identity: campaign }, (paper) => {
    paper.text('H1', [{ text: `Thank you, ${name}`, face: 'bold' }], { size: 18, leading: 24, after: 8 })
    paper.text('P', [{ text: 'What you gave, and how it stands:' }], { after: 4 })
    for (const gift of gifts) paper.text('P', [{ text: `· ${gift}` }], { after: 2 })
    paper.text('P', [{ text: `It is part of ${campaign}.` }])
  })
}

function head(paper: Paper, code: string, kind: string, title: string) {
  paper.text('P', [{ text: code, face: 'codeBold' }], { size: 11, after: 2 })
  paper.text('H1', [{ text: kind, face: 'bold' }], { size: 20, leading: 25, after: 2 })
  paper.text('P', [{ text: title }], { size: 12, after: 10 })
}
