import { INK, QUIET } from '#paper/lines'
import type { SheetOrder } from '#paper/order'
import { makePaper, type Paper } from '#paper/paper'
import { setTable, WIDTHS } from '#paper/table'

/** What goes into one parcel, to be ticked; from the lot as it stands. */
export interface PackingOrder extends SheetOrder {
  of: 'packing'
  lot: number
  title: string
  items: readonly { what: string; note: string }[]
  facts: readonly [name: string, words: string][]
  cautions: readonly string[]
}

declare module '#paper/order' {
  interface Papers {
    packing: PackingOrder
  }
}

export function setPackingList(order: PackingOrder): Promise<Buffer> {
  const { lot, size, author, at } = order
  return makePaper({ title: `Packing list, lot ${lot}`, author, date: new Date(at), size, identity: `LOT ${lot}` }, (paper) =>
    drawPackingList(paper, order),
  )
}

export function drawPackingList(paper: Paper, { lot, title, items, facts, cautions }: PackingOrder): void {
  paper.opening(`LOT ${lot}`, 'Packing list', title)
  setTable(
    paper,
    [
      { head: 'Packed', width: WIDTHS.tick },
      { head: 'What', width: { share: 0.55 } },
      { head: 'Note', width: { share: 0.45 } },
    ],
    items.map(({ what, note }) => [
      {
        figure: {
          alt: `To tick: ${what}`,
          draw: (box) =>
            void paper.doc
              .rect(box.x, box.y + box.height / 2 - 6, 12, 12)
              .lineWidth(1)
              .strokeColor(INK)
              .stroke(),
        },
      },
      { spans: [{ text: what }] },
      { spans: [{ text: note, colour: QUIET }] },
    ]),
  )
  paper.heading('The parcel')
  for (const [name, words] of facts) paper.said(`${name}.`, words)
  for (const caution of cautions) paper.said('Caution.', caution)
  paper.text('P', [{ text: 'Packed by ______________________   on ______________' }], { size: 11 })
}
