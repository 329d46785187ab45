import type { SheetOrder } from '#paper/order'
import { makePaper, type Paper } from '#paper/paper'
import { NARROW, REST, setTable, WIDTHS } from '#paper/table'

/** Where nobody has chosen a harmonised code. */
export const NO_CODE = 'none yet'

export interface CustomsGoods {
  goods: string
  quantity: string
  netWeight: string
  /** The price as it was paid; never another. */
  price: string
  /** The harmonised code, or that nobody has looked it up. */
  code: string
  origin: string
}

/** What the customs of another country ask about a parcel. A draft: the carrier's own form is what counts. */
export interface CustomsOrder extends SheetOrder {
  of: 'customs'
  /** "LOT 3 · TERN-03", or of each lot in the parcel. */
  code: string
  from: readonly string[]
  to: readonly string[]
  /** One row for each lot. */
  goods: readonly CustomsGoods[]
  postage: string
  /** Of the packed parcel. */
  weight: string
  measures: string
  reason: string
  dangers: readonly string[]
}

declare module '#paper/order' {
  interface Papers {
    customs: CustomsOrder
  }
}

export function setCustoms(order: CustomsOrder): Promise<Buffer> {
  const { code, author, at, size } = order
  return makePaper({ title: `Customs draft, ${code}`, author, date: new Date(at), size, identity: code }, (paper) =>
    drawCustoms(paper, order),
  )
}

export function drawCustoms(paper: Paper, order: CustomsOrder): void {
  paper.opening(order.code, 'Customs draft', 'Copy this into the carrier’s form, which is the one that counts.')
  paper.said('From.', order.from.join(', '))
  paper.said('To.', order.to.join(', '), { after: 10 })
  setTable(
    paper,
    [
      { head: 'Goods', width: REST },
      { head: 'Quantity', width: NARROW.quantity },
      { head: 'Net weight', width: NARROW.weight, align: 'right' },
      { head: 'Price paid', width: WIDTHS.price, align: 'right' },
      { head: 'Code', width: NARROW.code },
      { head: 'Made in', width: NARROW.country },
    ],
    order.goods.map((one) => [
      { spans: [{ text: one.goods }] },
      { spans: [{ text: one.quantity }] },
      { spans: [{ text: one.netWeight, face: 'code' }] },
      { spans: [{ text: one.price, face: 'code' }] },
      { spans: [{ text: one.code, face: 'code' }] },
      { spans: [{ text: one.origin }] },
    ]),
  )
  paper.y += 10
  if (order.goods.some(({ code }) => code === NO_CODE))
    paper.said(
      'Harmonised code.',
      'Where none stands, nobody has chosen one: ask the carrier or the customs office of the destination country.',
    )
  paper.said('Why it is sent.', order.reason)
  paper.said('Postage paid.', order.postage)
  paper.said('Parcel.', `${order.weight}, ${order.measures}`)
  for (const danger of order.dangers) paper.said('Caution.', danger)
  paper.said(
    'The price is true.',
    'It is what was paid at the auction. Never write a lower one, whoever asks: that is an offence in most countries, and an insurer pays no more than the form states.',
  )
  paper.text('P', [{ text: 'The buyer should ask about duties and taxes in the destination country. Nothing on this paper is advice.' }], {
    after: 16,
  })
  paper.text('P', [{ text: 'Signed ______________________   on ______________' }], { size: 11 })
}
