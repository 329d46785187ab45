import type { ColumnWanted, TableRow } from '#kernel/table'
import { FEED_KINDS, type Feed, type Flaw } from './design.contract'

export const FEEDS_COLUMNS: readonly ColumnWanted[] = [
  { name: 'from', isRequired: true, also: ['source', 'feeds'] },
  { name: 'to', isRequired: true, also: ['target', 'fed'] },
  { name: 'kind', isRequired: true, also: ['type', 'what'] },
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
    else feeds.push({ line, feed: { from, to, kind } })
  }
  return { feeds, blocks: [...blocks], flaws }
}
