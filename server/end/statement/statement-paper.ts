import { QUIET } from '#paper/lines'
import type { SheetOrder } from '#paper/order'
import { makePaper, type Paper } from '#paper/paper'
import { type Cell, setTable } from '#paper/table'

/** The statement for the cause, in words and in amounts of the campaign's currency. */
export interface StatementOrder extends SheetOrder {
  of: 'statement'
  campaign: string
  cause: string
  registration: string
  seller: string
  drawnOn: string
  /** Which state of the journal it was drawn from: so many entries, digits in print, and the whole digest. */
  entries: number
  headDigits: string
  head: string
  summary: readonly (readonly [what: string, amount: string])[]
  parts: readonly {
    title: string
    lines: readonly (readonly [what: string, lot: string, day: string, reference: string, amount: string])[]
    total: string
  }[]
  /** A row for each sold lot; null before any was sold. */
  lots: { heads: readonly string[]; rows: readonly (readonly string[])[]; totals: readonly string[] } | null
  /** Why a lot stands at another figure than its page, and where a share was rounded; a sentence each. */
  notes: readonly string[]
  rounding: readonly string[]
  variance: string
  /** Where it does not come out; empty when it does. */
  varianceAt: readonly string[]
}

declare module '#paper/order' {
  interface Papers {
    statement: StatementOrder
  }
}

export function setStatement(order: StatementOrder): Promise<Buffer> {
  const { campaign, cause, size, author, at, drawnOn, headDigits } = order
  const title = `Statement for ${cause || 'the cause'}`
  return makePaper({ title, author, date: new Date(at), size, identity: `${campaign} · ${drawnOn} · journal ${headDigits}` }, (paper) => {
    paper.text('P', [{ text: campaign, face: 'codeBold' }], { size: 11, after: 2 })
    paper.text('H1', [{ text: title, face: 'bold' }], { size: 20, leading: 25, after: 4 })
    if (order.registration) paper.text('P', [{ text: `Registered as ${order.registration}` }], { after: 2 })
    paper.text('P', [{ text: `Given by ${order.seller}.` }], { after: 8 })
    setTable(
      paper,
      columnsOf([
        ['In all', 0.72],
        ['Amount', 0.28],
      ]),
      order.summary.map(([what, amount]) => [words(what), money(amount)]),
    )
    paper.y += 6
    setVariance(paper, order)
    if (order.lots) setLots(paper, order.lots)
    setSentences(paper, 'Why a lot shows another figure than its hammer price', order.notes)
    setSentences(paper, 'Rounding', order.rounding)
    for (const part of order.parts) setPart(paper, part)
    paper.heading('Drawn up')
    paper.text(
      'P',
      [
        { text: `On ${drawnOn}, from a journal of ${order.entries} entries with the head ` },
        { text: headDigits, face: 'codeBold' },
        { text: '. Anyone who has the journal can compute the same head from it: ' },
        { text: order.head, face: 'code' },
      ],
      { after: 6 },
    )
    paper.text('P', [{ text: 'Local law and the cause’s own rules say what has to be reported, and to whom.', colour: QUIET }], {
      size: 9,
    })
  })
}

function setVariance(paper: Paper, { variance, varianceAt }: StatementOrder) {
  paper.text('P', [{ text: `Variance ${variance}`, face: 'bold' }], { size: 13, after: 4 })
  if (varianceAt.length === 0) {
    paper.text(
      'P',
      [{ text: 'Every entry balances, every lot agrees with its signed history, and each part below adds up to what the books say.' }],
      { after: 4 },
    )
    return
  }
  paper.text('P', [{ text: 'It does not balance. This is where:' }], { after: 4 })
  setList(paper, varianceAt)
}

function setSentences(paper: Paper, heading: string, sentences: readonly string[]) {
  if (sentences.length === 0) return
  paper.heading(heading, { keep: 60 })
  setList(paper, sentences)
}

function setList(paper: Paper, sentences: readonly string[]) {
  const list = paper.element('L')
  for (const words of sentences) paper.text('LBody', [{ text: `· ${words}` }], { after: 3 }, paper.element('LI', list))
  list.end()
}

function setLots(paper: Paper, { heads, rows, totals }: NonNullable<StatementOrder['lots']>) {
  paper.heading('Lots', { keep: 110 })
  const amount = 0.62 / heads.length
  const columns = [
    { head: 'Lot', width: { share: 0.09 } },
    { head: 'Unit', width: { share: 0.11 } },
    { head: 'Reference', width: { share: 0.18 } },
    ...heads.map((head) => ({ head, width: { share: amount }, align: 'right' as const })),
  ]
  const last = [bold('Together'), words(''), words(''), ...totals.map((total): Cell => ({ spans: [{ text: total, face: 'codeBold' }] }))]
  setTable(paper, columns, [
    ...rows.map(([lot = '', unit = '', reference = '', ...sums]) => [words(lot), code(unit), code(reference), ...sums.map(money)]),
    last,
  ])
}

function setPart(paper: Paper, { title, lines, total }: StatementOrder['parts'][number]) {
  paper.heading(title, { keep: 110 })
  const columns = columnsOf([
    ['What', 0.36],
    ['Lot', 0.08],
    ['Day', 0.14],
    ['Reference', 0.24],
    ['Amount', 0.18],
  ])
  const rows = lines.map(([what, lot, day, reference, amount]) => [words(what), words(lot), words(day), code(reference), money(amount)])
  setTable(paper, columns, [...rows, [bold('Together'), words(''), words(''), words(''), { spans: [{ text: total, face: 'codeBold' }] }]])
}

const columnsOf = (shares: readonly (readonly [head: string, share: number])[]) =>
  shares.map(([head, share]) => ({ head, width: { share }, ...(head === 'Amount' && { align: 'right' as const }) }))

const words = (text: string): Cell => ({ spans: text === '' ? [] : [{ text }] })
const code = (text: string): Cell => ({ spans: text === '' ? [] : [{ text, face: 'code' }] })
const bold = (text: string): Cell => ({ spans: [{ text, face: 'bold' }] })
const money = (text: string): Cell => ({ spans: [{ text, face: 'code' }] })
