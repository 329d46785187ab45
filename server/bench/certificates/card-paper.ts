import { MILLIMETRE, makePaper, type Paper } from '#paper/paper'
import { drawQr } from '#paper/qr'

/** The card that lies in the box (A6): whose record it is, the way to it, and the code that opens the home checks. */
export interface CardOrder {
  of: 'card'
  tag: string
  design: string
  sentence: string
  serial: string | null
  /** Where the code leads: the home checks, with the code of the box. */
  address: string
  boxCode: string
  cautions: readonly string[]
  /** Fingerprint of the key that signs, to be compared with what a checking page shows. */
  keyWords: string
  author: string
  at: number
}

declare module '#paper/order' {
  interface Papers {
    card: CardOrder
  }
}

export function setCard(order: CardOrder): Promise<Buffer> {
  const { tag, serial, author, at } = order
  const spec = {
    title: `${tag}, card for the box`,
    author,
    date: new Date(at),
    size: 'a6' as const,
    margin: 22,
    identity: serial ? `${tag} · ${serial}` : tag,
  }
  return makePaper(spec, (paper) => drawCard(paper, order))
}

/** The same on a sheet that bears other papers too. */
export function drawCard(paper: Paper, { tag, design, sentence, serial, address, boxCode, cautions, keyWords }: CardOrder): void {
  const side = 34 * MILLIMETRE
  const width = paper.width - side - 8
  const top = paper.y
  paper.text('P', [{ text: tag, face: 'codeBold' }], { size: 17, width, after: 2 })
  paper.text('H1', [{ text: design, face: 'bold' }], { size: 12.5, leading: 16, width, after: 4 })
  paper.text('P', [{ text: sentence }], { size: 8.5, width })
  const x = paper.left + paper.width - side
  paper
    .element('Figure', undefined, { alt: `QR code that leads to ${address}`, bbox: [x, top, x + side, top + side], placement: 'Block' })
    .add(() => drawQr(paper.doc, address, x, top, side))
    .end()
  paper.y = Math.max(paper.y, top + side) + 4
  paper.said('Measure it at home.', 'The code leads to five checks that a common meter can repeat, and compares them with the bench.', {
    size: 8.5,
  })
  paper.text('P', [{ text: 'Code of this box ' }, { text: boxCode, face: 'codeBold' }], { size: 11, after: 4 })
  paper.said(
    'Check the record.',
    `${serial ? `Certificate ${serial}. ` : ''}The key that signs begins with ${keyWords}. Compare it with what the checking page shows.`,
    { size: 8.5 },
  )
  for (const caution of cautions.slice(0, 3)) paper.said('Caution.', caution, { size: 8.5 })
  paper.text('P', [{ text: 'It proves that the record is unchanged since it was signed, not that it was true.' }], { size: 8 })
}
