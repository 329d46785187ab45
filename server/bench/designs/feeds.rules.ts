import type { ColumnWanted, TableRow } from '#kernel/table'
import { FEED_KINDS, type Feed, type Flaw } from './design.contract'

export const FEEDS_COLUMNS: readonly ColumnWanted[] = [
  { name: 'from', isRequired: true, also: ['source', 'feeds'] },
  { name: 'to', isRequired: true, also: ['target', 'fed'] },
  { name: 'kind', isRequired: true, also: ['type', 'what'] },
  { name: 'test point', isRequired: false, also: ['point', 'probe'] },
  { name: 'expect', isRequired: false, also: ['expected', 'to expect'] },
]

/** What feeds what, with power or signal; a row without `to` names a block that feeds nothing. */
export function readFeeds(rows: readonly TableRow[]): { feeds: { line: number; feed: Feed }[]; blocks: string[]; flaws: Flaw[] } {
  const flaws: Flaw[] = []
  const feeds: { line: number; feed: Feed }[] = []
  const blocks = new Set<string>()
  for (const { line, cells } of rows) {
    const complain = (column: string, words: string) => flaws.push({ list: 'feeds', line, column, words })
    const [from = '', to = ''] = [cells.from, cells.to].map((cell) => (cell ?? '').replaceAll(/\s+/g, ' '))
    if (from === '') complain('from', 'Name the block that feeds another.')
    if (from.length > 60 || to.length > 60) complain('from', 'Keep the name of a block under 60 characters.')
    for (const name of [from, to]) if (name !== '') blocks.add(name)
    if (to === '') continue
    const said = (cells.kind ?? '').toLowerCase()
    const kind = FEED_KINDS.find((one) => one === said)
    if (!kind) complain('kind', `"${cells.kind ?? ''}" is neither power nor signal. Write one of the two.`)
    else if (from === to) complain('to', `${from} cannot feed itself.`)
    else if (feeds.some(({ feed }) => feed.from === from && feed.to === to && feed.kind === kind))
      complain('to', `${from} to ${to} is written twice.`)
    else feeds.push({ line, feed: { from, to, kind, ...pointIn(cells, complain) } })
  }
  return { feeds, blocks: [...blocks], flaws }
}

/** Where the wire can be probed and what is to be seen there; one without the other is of no use. */
function pointIn(cells: TableRow['cells'], complain: (column: string, words: string) => void): Pick<Feed, 'point' | 'expects'> {
  const [point = '', expects = ''] = [cells['test point'], cells.expect].map((cell) => (cell ?? '').trim())
  if (point.length > 40) complain('test point', 'Keep the test point under 40 characters.')
  if (expects.length > 120) complain('expect', 'Keep it under 120 characters.')
  if ((point === '') !== (expects === ''))
    complain(
      point === '' ? 'test point' : 'expect',
      'Write both: where to probe, such as U2 pin 8, and what to expect there, such as 9.0 V.',
    )
  return point === '' || expects === '' ? {} : { point, expects }
}
