import type { SheetOrder } from '#paper/order'
import { makePaper } from '#paper/paper'
import { REST, setTable, WIDTHS } from '#paper/table'

/** What the customs of another country ask about a parcel. A draft: the carrier's own form is what counts. */
export interface CustomsOrder extends SheetOrder {
  of: 'customs'
  lot: number
  unit: string
  from: readonly string[]
  to: readonly string[]
  goods: string
  quantity: string
  /** The hammer price as it was paid; never another. */
  price: string
  postage: string
  weight: string
  measures: string
  origin: string
  tariffHint: string
  reason: string
  dangers: readonly string[]
}

declare module '#paper/order' {
  interface Papers {
    customs: CustomsOrder
  }
}

export function setCustoms(order: CustomsOrder): Promise<Buffer> {
  const { lot, unit, author, at, size } = order
  return makePaper({ title: `Customs draft, lot ${lot}`, author, date: new Date(at), size, identity: `LOT ${lot} · ${unit}` }, (paper) => {
    paper.opening(`LOT ${lot} · ${unit}`, 'Customs draft', 'Copy this into the carrier’s form, which is the one that counts.')
    paper.said('From.', order.from.join(', '))
    paper.said('To.', order.to.join(', '), { after: 10 })
    setTable(
      paper,
      [
        { head: 'Goods', width: REST },
        { head: 'Quantity', width: WIDTHS.quantity },
        { head: 'Net weight', width: WIDTHS.weight, align: 'right' },
        { head: 'Price paid', width: WIDTHS.price, align: 'right' },
        { head: 'Made in', width: WIDTHS.country },
      ],
      [
        [
          { spans: [{ text: order.goods }] },
          { spans: [{ text: order.quantity }] },
          { spans: [{ text: order.weight, face: 'code' }] },
          { spans: [{ text: order.price, face: 'code' }] },
          { spans: [{ text: order.origin }] },
        ],
      ],
    )
    paper.y += 10
    paper.said('Tariff number.', order.tariffHint || 'not looked up; ask the carrier or the customs office of the destination country')
    paper.said('Why it is sent.', order.reason)
    paper.said('Postage paid.', order.postage)
    paper.said('Parcel.', `${order.weight}, ${order.measures}`)
    for (const danger of order.dangers) paper.said('Caution.', danger)
    paper.said(
      'The price is true.',
      'It is what was paid at the auction. Never write a lower one, whoever asks: that is an offence in most countries, and an insurer pays no more than the form states.',
    )
    paper.text(
      'P',
      [{ text: 'The buyer should ask about duties and taxes in the destination country. Nothing on this paper is advice.' }],
      {
        after: 16,
      },
    )
    paper.text('P', [{ text: 'Signed ______________________   on ______________' }], { size: 11 })
  })
}
