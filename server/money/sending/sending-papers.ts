import { makePaper } from '#paper/paper'
import { setTable } from '#paper/table'
import { type Common, head } from './list-papers'

/** What the customs of another country ask about a parcel. A draft: the carrier's own form is what counts. */
export interface CustomsOrder extends Common {
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

export function setCustoms(order: CustomsOrder): Promise<Buffer> {
  const { lot, unit, author, at, size } = order
  return makePaper({ title: `Customs draft, lot ${lot}`, author, date: new Date(at), size, identity: `LOT ${lot} · ${unit}` }, (paper) => {
    head(paper, `LOT ${lot} · ${unit}`, 'Customs draft', 'To be copied into the form of the carrier, which is what counts.')
    paper.said('From.', order.from.join(', '))
    paper.said('To.', order.to.join(', '), { after: 10 })
    setTable(
      paper,
      [
        { head: 'Goods', width: paper.width - 330 },
        { head: 'Quantity', width: 60 },
        { head: 'Net weight', width: 80, align: 'right' },
        { head: 'Price paid', width: 90, align: 'right' },
        { head: 'Made in', width: 100 },
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
    paper.said('Tariff number.', order.tariffHint || 'not looked up; the carrier or the customs of the country of destination tell it')
    paper.said('Why it is sent.', order.reason)
    paper.said('Postage paid.', order.postage)
    paper.said('Parcel.', `${order.weight}, ${order.measures}`)
    for (const danger of order.dangers) paper.said('Caution.', danger)
    paper.said(
      'The price is true.',
      'It is what was paid at the auction. A lower one is never written here, whoever asks for it: that is an offence in most countries, and an insurer pays no more than what stands on the form.',
    )
    paper.text(
      'P',
      [{ text: 'Duties and taxes of the country of destination are the buyer’s to ask about there. Nothing on this paper is advice.' }],
      {
        after: 16,
      },
    )
    paper.text('P', [{ text: 'Signed ______________________   on ______________' }], { size: 11 })
  })
}

/** One of the papers that lie in the box: paragraphs under headings. */
export interface LeafletOrder extends Common {
  of: 'leaflet'
  code: string
  kind: string
  title: string
  parts: readonly { heading: string; paragraphs: readonly string[] }[]
}

export function setLeaflet({ code, kind, title, parts, size, author, at }: LeafletOrder): Promise<Buffer> {
  return makePaper({ title: `${kind}, ${code}`, author, date: new Date(at), size, identity: code }, (paper) => {
    head(paper, code, kind, title)
    for (const { heading, paragraphs } of parts) {
      if (heading !== '') paper.heading(heading)
      for (const paragraph of paragraphs) paper.text('P', [{ text: paragraph }], { size: 11, after: 6 })
    }
  })
}

/** How to repeat at home the checks that a common meter can: what the bench read, and a line to write beside it. */
export interface RepeatOrder extends Common {
  of: 'repeat'
  tag: string
  design: string
  serial: string
  address: string
  checks: readonly { check: string; title: string; plain: string; shown: string; limits: string }[]
  cautions: readonly string[]
}

export function setRepeat({ tag, design, serial, address, checks, cautions, size, author, at }: RepeatOrder): Promise<Buffer> {
  return makePaper(
    { title: `How to repeat the checks, ${tag}`, author, date: new Date(at), size, identity: `${tag} · ${serial}` },
    (paper) => {
      head(paper, `${tag} · ${serial}`, 'How to repeat the checks', design)
      paper.text(
        'P',
        [
          {
            text: 'These are the checks that a common hand-held meter can repeat. Write what you read beside what the bench read. Two readings agree when they are no further apart than the doubt of both meters explains; the page below does that sum.',
          },
        ],
        { size: 11, after: 6 },
      )
      for (const caution of cautions) paper.said('Caution.', caution, { size: 11 })
      paper.y += 4
      setTable(
        paper,
        [
          { head: 'Check', width: paper.width - 300 },
          { head: 'Bench', width: 90, align: 'right' },
          { head: 'Limits', width: 110, align: 'right' },
          { head: 'You read', width: 100 },
        ],
        checks.map((one) => [
          { spans: [{ text: `${one.check} ${one.title}`, face: 'bold' }, { text: one.plain === '' ? '' : `\n${one.plain}` }] },
          { spans: [{ text: one.shown, face: 'code' }] },
          { spans: [{ text: one.limits, face: 'code' }] },
          { spans: [{ text: '__________' }] },
        ]),
      )
      paper.y += 10
      paper.said('Compare.', address, { size: 11 })
      paper.text(
        'P',
        [{ text: 'If one stays apart after a second try with fresh batteries in the meter, report it on your page of the lot.' }],
        { size: 11 },
      )
    },
  )
}
