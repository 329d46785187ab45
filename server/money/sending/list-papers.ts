import { makePaper, type Paper, type PaperSize } from '#paper/paper'
import { setTable } from '#paper/table'

export interface Common {
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

export function head(paper: Paper, code: string, kind: string, title: string) {
  paper.text('P', [{ text: code, face: 'codeBold' }], { size: 11, after: 2 })
  paper.text('H1', [{ text: kind, face: 'bold' }], { size: 20, leading: 25, after: 2 })
  paper.text('P', [{ text: title }], { size: 12, after: 10 })
}
