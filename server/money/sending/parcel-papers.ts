import { type CardOrder, drawCard } from '#bench/certificates/card-paper'
import type { SheetOrder } from '#paper/order'
import { makePaper, type Paper } from '#paper/paper'
import { type CustomsOrder, drawCustoms } from './customs-paper'
import { drawLeaflet, type LeafletOrder } from './leaflet-paper'
import { drawPackingList, type PackingOrder } from './packing-paper'
import { drawRepeat, type RepeatOrder } from './repeat-paper'

export type ParcelPaper = PackingOrder | CustomsOrder | CardOrder | LeafletOrder | RepeatOrder

/** Everything that is printed for one parcel, in one print. */
export interface ParcelPapersOrder extends SheetOrder {
  of: 'parcel-papers'
  /** "LOT 3 · LOT 5". */
  code: string
  papers: readonly ParcelPaper[]
}

declare module '#paper/order' {
  interface Papers {
    'parcel-papers': ParcelPapersOrder
  }
}

/** Short papers share a sheet where this much of it is left, in points; what is longer goes on over the page. */
const ROOM_FOR_SHORT = 190
const BETWEEN = 26

/** Packing list, customs draft and the checks begin a sheet each; cards and leaflets follow one another. */
export function setParcelPapers({ code, papers, size, author, at }: ParcelPapersOrder): Promise<Buffer> {
  return makePaper({ title: `Papers of the parcel, ${code}`, author, date: new Date(at), size, identity: code }, (paper) => {
    let isAfterShort = false
    for (const order of papers) {
      const isShort = order.of === 'card' || order.of === 'leaflet'
      if (!isShort || !isAfterShort) paper.nextSheet()
      else if (!paper.room(BETWEEN + ROOM_FOR_SHORT)) cut(paper)
      draw(paper, order)
      isAfterShort = isShort
    }
  })
}

/** Where the sheet is cut between two papers. */
function cut(paper: Paper): void {
  paper.artifact(() => {
    paper.doc
      .moveTo(paper.left, paper.y + BETWEEN / 2)
      .lineTo(paper.left + paper.width, paper.y + BETWEEN / 2)
      .dash(3, { space: 3 })
      .lineWidth(0.6)
      .stroke()
      .undash()
  })
  paper.y += BETWEEN
}

function draw(paper: Paper, order: ParcelPaper): void {
  if (order.of === 'packing') drawPackingList(paper, order)
  else if (order.of === 'customs') drawCustoms(paper, order)
  else if (order.of === 'card') drawCard(paper, order)
  else if (order.of === 'leaflet') drawLeaflet(paper, order)
  else drawRepeat(paper, order)
}
