import type { SheetOrder } from '#paper/order'
import { makePaper, type Paper } from '#paper/paper'

/** One of the papers that lie in the box: paragraphs under headings. */
export interface LeafletOrder extends SheetOrder {
  of: 'leaflet'
  code: string
  kind: string
  title: string
  parts: readonly { heading: string; paragraphs: readonly string[] }[]
}

declare module '#paper/order' {
  interface Papers {
    leaflet: LeafletOrder
  }
}

export function setLeaflet(order: LeafletOrder): Promise<Buffer> {
  const { code, kind, size, author, at } = order
  return makePaper({ title: `${kind}, ${code}`, author, date: new Date(at), size, identity: code }, (paper) => drawLeaflet(paper, order))
}

export function drawLeaflet(paper: Paper, { code, kind, title, parts }: LeafletOrder): void {
  paper.opening(code, kind, title)
  for (const { heading, paragraphs } of parts) {
    if (heading !== '') paper.heading(heading)
    for (const paragraph of paragraphs) paper.text('P', [{ text: paragraph }], { size: 11, after: 6 })
  }
}
