import { HOME_CAUTION } from '#bench/certificates/sentences.rules'
import type { SheetOrder } from '#paper/order'
import { makePaper, type Paper } from '#paper/paper'
import { REST, setTable, WIDTHS } from '#paper/table'

/** How to repeat at home the checks that a common meter can: what the bench read, and a line to write beside it. */
export interface RepeatOrder extends SheetOrder {
  of: 'repeat'
  tag: string
  design: string
  serial: string
  address: string
  checks: readonly {
    check: string
    title: string
    plain: string
    shown: string
    limits: string
    how: readonly { name: string; words: string }[]
  }[]
  cautions: readonly string[]
}

declare module '#paper/order' {
  interface Papers {
    repeat: RepeatOrder
  }
}

export function setRepeat(order: RepeatOrder): Promise<Buffer> {
  const { tag, serial, size, author, at } = order
  const spec = { title: `How to repeat the checks, ${tag}`, author, date: new Date(at), size, identity: `${tag} · ${serial}` }
  return makePaper(spec, (paper) => drawRepeat(paper, order))
}

export function drawRepeat(paper: Paper, { tag, design, serial, address, checks, cautions }: RepeatOrder): void {
  paper.opening(`${tag} · ${serial}`, 'How to repeat the checks', design)
  paper.text(
    'P',
    [
      {
        text: 'You can repeat these checks at home with a common hand-held meter, or without one where that is said. Write what you find beside what the bench read. Two readings agree when they are no further apart than the doubt of both meters explains; the page below does that sum.',
      },
    ],
    { size: 11, after: 6 },
  )
  for (const caution of [...cautions, HOME_CAUTION]) paper.said('Caution.', caution, { size: 11 })
  paper.y += 4
  setTable(
    paper,
    [
      { head: 'Check', width: REST },
      { head: 'Bench', width: WIDTHS.reading, align: 'right' },
      { head: 'Limits', width: WIDTHS.limits, align: 'right' },
      { head: 'You read', width: WIDTHS.writtenByHand },
    ],
    checks.map((one) => [
      {
        spans: [
          { text: `${one.check} ${one.title}`, face: 'bold' },
          { text: one.plain === '' ? '' : `\n${one.plain}` },
          ...one.how.map(({ name, words }) => ({ text: `\n${name}: ${words}` })),
        ],
      },
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
}
