import type { SheetOrder } from '#paper/order'
import { makePaper } from '#paper/paper'

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

export function setLeaflet({ code, kind, title, parts, size, author, at }: LeafletOrder): Promise<Buffer> {
  return makePaper({ title: `${kind}, ${code}`, author, date: new Date(at), size, identity: code }, (paper) => {
    paper.opening(code, kind, title)
    for (const { heading, paragraphs } of parts) {
      if (heading !== '') paper.heading(heading)
      for (const paragraph of paragraphs) paper.text('P', [{ text: paragraph }], { size: 11, after: 6 })
    }
  })
}
