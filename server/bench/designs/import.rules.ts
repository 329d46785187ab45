import type { Table } from '#kernel/table'
import type { TableChoice } from '#kernel/table-in'
import { acrossLists, unknownInParts } from './across.rules'
import { limitWords } from './check-words.rules'
import { CHECKLIST_COLUMNS, readChecklist } from './checklist.rules'
import type { Check, Feed, Flaw, PartsListChoice } from './design.contract'
import { FEEDS_COLUMNS, readFeeds } from './feeds.rules'
import { readListTable } from './list-table.rules'
import { PARTS_COLUMNS } from './parts-columns.rules'
import { type PartsLine, readPartsList } from './read-parts-list.rules'
import { stagesTaken } from './stage-kinds.rules'

export interface SheetReading {
  list: Flaw['list']
  encoding: Table['encoding']
  delimiter: Table['delimiter']
  hasHeading: boolean
  columns: Table['columns']
  rows: SheetRow[]
  /** What was taken to be meant by the list as a whole, in sentences. */
  taken?: string[]
}

export interface SheetRow {
  line: number
  understood: string
  hint?: string | null
  /** Its cells, so that it can be mended: of rows with a flaw or a question, and of the first ones. */
  cells?: Record<string, string>
  /** How the cells that were mended stand in the file. */
  written?: Record<string, string>
}

export interface DesignDraft {
  checks: Check[]
  lines: PartsLine[]
  feeds: Feed[]
  blocks: string[]
}

export interface ImportReading {
  sheets: SheetReading[]
  /** By list, then by line; empty when the design can be stored. */
  flaws: Flaw[]
  draft: DesignDraft
}

type Source = Uint8Array | string
type ListName = Flaw['list']

/** How each list is to be read where what was found out is not right. */
export interface ImportChoices {
  checklist?: TableChoice
  partsList?: PartsListChoice
  feeds?: TableChoice
}

/** Reads the three lists of a design together. Nothing is stored while there is one flaw. */
export function readImport(sources: Record<ListName, Source>, choices: ImportChoices = {}): ImportReading {
  const tables = {
    checklist: readListTable('checklist', sources.checklist, CHECKLIST_COLUMNS, choices.checklist),
    partsList: readListTable('partsList', sources.partsList, PARTS_COLUMNS, choices.partsList),
    feeds: readListTable('feeds', sources.feeds, FEEDS_COLUMNS, choices.feeds),
  }
  const block = choices.partsList?.block || blockOfAll(tables, sources)
  const checklist = readChecklist(tables.checklist.table.rows, { has: columnsOf(tables.checklist.table), block })
  const parts = readPartsList(tables.partsList.table.rows, block)
  const fed = isNothing(sources.feeds)
    ? { feeds: [], flaws: [], blocks: blocksNamed(checklist.checks, parts.lines) }
    : readFeeds(tables.feeds.table.rows)
  if (isNothing(sources.feeds)) tables.feeds.flaws = []
  const flaws = [...Object.values(tables).flatMap((one) => [...one.flaws, ...one.asked]), ...checklist.flaws, ...parts.flaws, ...fed.flaws]
  const feedsWereRead = tables.feeds.flaws.length === 0
  const checklistWasRead = tables.checklist.flaws.length === 0
  flaws.push(...acrossLists({ checks: checklist.checks, parts: parts.lines, ...fed }, { feedsWereRead, checklistWasRead }))
  const sheets: SheetReading[] = [
    {
      ...sheet(
        'checklist',
        tables.checklist.table,
        checklist.checks.map(({ line, check, hint }) => ({ line, understood: checkUnderstood(check), hint })),
      ),
      taken: stagesTaken(checklist.checks.map(({ check }) => check)),
    },
    partsSheet(tables.partsList.table, parts.lines),
    sheet(
      'feeds',
      tables.feeds.table,
      fed.feeds.map(({ line, feed }) => ({ line, understood: `${feed.from} gives ${feed.kind} to ${feed.to}` })),
    ),
  ]
  return {
    sheets: sheets.map((one) => withCells(one, tables[one.list].table, flaws)),
    flaws: flaws.sort((a, b) => LISTS.indexOf(a.list) - LISTS.indexOf(b.list) || a.line - b.line),
    draft: {
      checks: checklist.checks.map(({ check }) => check),
      lines: parts.lines,
      feeds: fed.feeds.map(({ feed }) => feed),
      blocks: fed.blocks,
    },
  }
}

/** Reads a parts list alone, against the checklist and the blocks of a design that is there. */
export function readPartsImport(
  source: Source,
  { checks, blocks }: Pick<DesignDraft, 'checks' | 'blocks'>,
  choice: PartsListChoice = {},
): { sheet: SheetReading; flaws: Flaw[]; lines: PartsLine[] } {
  const { table, flaws, asked } = readListTable('partsList', source, PARTS_COLUMNS, choice)
  const parts = readPartsList(table.rows, choice.block)
  const unknown = unknownInParts(parts.lines, { blocks, checks })
  const all = [...flaws, ...asked, ...parts.flaws, ...unknown].sort((a, b) => a.line - b.line)
  return { sheet: withCells(partsSheet(table, parts.lines), table, all), flaws: all, lines: parts.lines }
}

/** Nothing was given for a list. */
const isNothing = (source: Source) => (typeof source === 'string' ? source.trim() === '' : source.length === 0)

/** Where no list names a block there is one, which is all of the machine. */
function blockOfAll({ checklist, partsList }: Record<'checklist' | 'partsList', { table: Table }>, { feeds }: { feeds: Source }) {
  const namesBlocks = columnsOf(checklist.table).has('exercises') || columnsOf(partsList.table).has('blocks')
  return isNothing(feeds) && !namesBlocks ? 'whole unit' : undefined
}

const columnsOf = ({ columns }: Table): ReadonlySet<string> => new Set(columns.flatMap(({ column }) => column ?? []))

/** Without a list of what feeds what there are the blocks that the other lists name, and none feeds another. */
const blocksNamed = (checks: readonly { check: Check }[], lines: readonly PartsLine[]): string[] => [
  ...new Set([...checks.flatMap(({ check }) => check.exercises), ...lines.flatMap(({ blocks }) => blocks)]),
]

/** So many rows come with their cells although nothing is odd about them. */
const ROWS_WITH_CELLS = 400

/** A row is mended where it is shown: beside what was understood stand its cells. A row that could not be read at all has only them. */
function withCells(one: SheetReading, table: Table, flaws: readonly Flaw[]): SheetReading {
  const flawed = new Set(flaws.filter(({ list }) => list === one.list).map(({ line }) => line))
  const byLine = new Map(table.rows.map((row) => [row.line, row]))
  const taken = one.columns.flatMap(({ column }) => column ?? [])
  const rows = one.rows.map((row, index) => {
    const read = byLine.get(row.line)
    if (!read || !(index < ROWS_WITH_CELLS || flawed.has(row.line) || row.hint || read.written)) return row
    const cells = Object.fromEntries([...taken, ...Object.keys(read.written ?? {})].map((name) => [name, read.cells[name] ?? '']))
    return { ...row, cells, ...(read.written ? { written: read.written } : {}) }
  })
  const shown = new Set(rows.map(({ line }) => line))
  const unread = [...flawed].flatMap((line) => {
    const read = byLine.get(line)
    if (!read || shown.has(line)) return []
    const cells = Object.fromEntries(taken.map((name) => [name, read.cells[name] ?? '']))
    return [{ line, understood: '', cells, ...(read.written ? { written: read.written } : {}) }]
  })
  return { ...one, rows: [...rows, ...unread] }
}

const partsSheet = (table: Table, lines: readonly PartsLine[]): SheetReading =>
  sheet(
    'partsList',
    table,
    lines.map(({ line, understood, blocks, fittedAfter, hint }) => {
      const after = fittedAfter === null ? '' : ` · fitted after ${fittedAfter}`
      return { line, understood: `${understood} · ${blocks.join(', ')}${after}`, hint }
    }),
  )

const LISTS: Flaw['list'][] = ['checklist', 'partsList', 'feeds']

const sheet = (list: Flaw['list'], { encoding, delimiter, hasHeading, columns }: Table, rows: SheetRow[]): SheetReading => ({
  list,
  encoding,
  delimiter,
  hasHeading,
  columns,
  rows,
})

function checkUnderstood(check: Check): string {
  const after = check.after.length > 0 ? ` · after ${check.after.join(', ')}` : ''
  return `${check.key} · ${check.stage}${check.isHold ? ', hold point' : ''}${check.fourEyes ? ' with four eyes' : ''}${check.gatesPower ? ', gates power' : ''} · ${check.title} · ${limitWords(check)}${after}`
}
