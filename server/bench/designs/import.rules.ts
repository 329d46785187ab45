import type { Table } from '#kernel/table'
import type { TableChoice } from '#kernel/table-in'
import { acrossLists, unknownInParts } from './across.rules'
import { limitWords } from './check-words.rules'
import { CHECKLIST_COLUMNS, readChecklist } from './checklist.rules'
import type { Check, Feed, Flaw, PartsListChoice } from './design.contract'
import { FEEDS_COLUMNS, readFeeds } from './feeds.rules'
import { readListTable } from './list-table.rules'
import { PARTS_COLUMNS, type PartsLine, readPartsList } from './read-parts-list.rules'
import { stagesTaken } from './stage-kinds.rules'

export interface SheetReading {
  list: Flaw['list']
  encoding: Table['encoding']
  delimiter: Table['delimiter']
  columns: Table['columns']
  rows: { line: number; understood: string; hint?: string | null }[]
  /** What was taken to be meant by the list as a whole, in sentences. */
  taken?: string[]
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
  const checklist = readChecklist(tables.checklist.table.rows)
  const parts = readPartsList(tables.partsList.table.rows, choices.partsList?.block)
  const fed = readFeeds(tables.feeds.table.rows)
  const flaws = [...Object.values(tables).flatMap((one) => one.flaws), ...checklist.flaws, ...parts.flaws, ...fed.flaws]
  const feedsWereRead = tables.feeds.flaws.length === 0
  const checklistWasRead = tables.checklist.flaws.length === 0
  flaws.push(...acrossLists({ checks: checklist.checks, parts: parts.lines, ...fed }, { feedsWereRead, checklistWasRead }))
  return {
    sheets: [
      {
        ...sheet(
          'checklist',
          tables.checklist.table,
          checklist.checks.map(({ line, check }) => ({ line, understood: checkUnderstood(check) })),
        ),
        taken: stagesTaken(checklist.checks.map(({ check }) => check)),
      },
      partsSheet(tables.partsList.table, parts.lines),
      sheet(
        'feeds',
        tables.feeds.table,
        fed.feeds.map(({ line, feed }) => ({ line, understood: `${feed.from} gives ${feed.kind} to ${feed.to}` })),
      ),
    ],
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
  const { table, flaws } = readListTable('partsList', source, PARTS_COLUMNS, choice)
  const parts = readPartsList(table.rows, choice.block)
  const unknown = unknownInParts(parts.lines, { blocks, checks })
  return {
    sheet: partsSheet(table, parts.lines),
    flaws: [...flaws, ...parts.flaws, ...unknown].sort((a, b) => a.line - b.line),
    lines: parts.lines,
  }
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

const sheet = (list: Flaw['list'], { encoding, delimiter, columns }: Table, rows: SheetReading['rows']): SheetReading => ({
  list,
  encoding,
  delimiter,
  columns,
  rows,
})

function checkUnderstood(check: Check): string {
  const after = check.after.length > 0 ? ` · after ${check.after.join(', ')}` : ''
  return `${check.key} · ${check.stage}${check.isHold ? ', hold point' : ''}${check.fourEyes ? ' with four eyes' : ''}${check.gatesPower ? ', gates power' : ''} · ${check.title} · ${limitWords(check)}${after}`
}
