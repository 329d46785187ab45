import { limitWords } from './check-words.rules'
import { CHECKLIST_COLUMNS, readChecklist } from './checklist.rules'
import type { Check, Feed, Flaw } from './design.contract'
import { FEEDS_COLUMNS, readFeeds } from './feeds.rules'
import { findCircle, findPowerCircle, unreachedBlocks } from './order.rules'
import { PARTS_COLUMNS, type PartsLine, readPartsList } from './parts-list.rules'
import { readTable, type Table } from './table.rules'

export interface SheetReading {
  list: Flaw['list']
  encoding: Table['encoding']
  delimiter: Table['delimiter']
  columns: Table['columns']
  rows: { line: number; understood: string }[]
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

/** Reads the three lists of a design together. Nothing is stored while there is one flaw. */
export function readImport(sources: { checklist: Source; partsList: Source; feeds: Source }): ImportReading {
  const tables = {
    checklist: readTable('checklist', sources.checklist, CHECKLIST_COLUMNS),
    partsList: readTable('partsList', sources.partsList, PARTS_COLUMNS),
    feeds: readTable('feeds', sources.feeds, FEEDS_COLUMNS),
  }
  const checklist = readChecklist(tables.checklist.table.rows)
  const parts = readPartsList(tables.partsList.table.rows)
  const fed = readFeeds(tables.feeds.table.rows)
  const flaws = [...Object.values(tables).flatMap((one) => one.flaws), ...checklist.flaws, ...parts.flaws, ...fed.flaws]
  const feedsWereRead = tables.feeds.flaws.length === 0
  const checklistWasRead = tables.checklist.flaws.length === 0
  if (feedsWereRead) flaws.push(...unknownBlocks(), ...feedFlaws())
  if (checklistWasRead) flaws.push(...unknownChecks(), ...circleFlaws())
  return {
    sheets: [
      sheet(
        'checklist',
        tables.checklist.table,
        checklist.checks.map(({ line, check }) => ({ line, understood: checkUnderstood(check) })),
      ),
      sheet(
        'partsList',
        tables.partsList.table,
        parts.lines.map(({ line, understood, blocks, fittedAfter }) => ({
          line,
          understood: `${understood} · ${blocks.join(', ')}${fittedAfter === null ? '' : ` · fitted after ${fittedAfter}`}`,
        })),
      ),
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

  function unknownBlocks(): Flaw[] {
    const known = new Set(fed.blocks)
    const words = (block: string) => `"${block}" is not in the list of feeds. Add it there, or write the block as it is written there.`
    return [
      ...checklist.checks.flatMap(({ line, check }) =>
        check.exercises
          .filter((block) => !known.has(block))
          .map((block) => ({ list: 'checklist' as const, line, column: 'exercises', words: words(block) })),
      ),
      ...parts.lines.flatMap(({ line, blocks }) =>
        blocks
          .filter((block) => !known.has(block))
          .map((block) => ({ list: 'partsList' as const, line, column: 'blocks', words: words(block) })),
      ),
    ]
  }

  function unknownChecks(): Flaw[] {
    const known = new Set(checklist.checks.map(({ check }) => check.key))
    return parts.lines.flatMap(({ line, fittedAfter }) =>
      fittedAfter === null || known.has(fittedAfter)
        ? []
        : [
            {
              list: 'partsList' as const,
              line,
              column: 'after',
              words: `${fittedAfter} is not a step of the checklist. Write the key of one that is, or leave it empty.`,
            },
          ],
    )
  }

  function circleFlaws(): Flaw[] {
    const circle = findCircle(checklist.checks.map(({ check }) => check))
    if (!circle) return []
    const line = checklist.checks.find(({ check }) => check.key === circle.key)?.line ?? 0
    return [{ list: 'checklist', line, column: 'after', words: circle.words }]
  }

  function feedFlaws(): Flaw[] {
    const feeds = fed.feeds.map(({ feed }) => feed)
    const circle = findPowerCircle(feeds)
    const lineOf = (block: string) => fed.feeds.find(({ feed }) => feed.from === block || feed.to === block)?.line ?? 0
    const unreached = checklistWasRead
      ? unreachedBlocks(
          fed.blocks,
          checklist.checks.map(({ check }) => check),
          feeds,
        )
      : []
    return [
      ...(circle === null
        ? []
        : [
            {
              list: 'feeds' as const,
              line: lineOf(circle),
              column: 'from',
              words: `${circle} would power itself in a circle. Break the circle.`,
            },
          ]),
      ...unreached.map((block) => ({
        list: 'feeds' as const,
        line: lineOf(block),
        column: 'from',
        words: `No check would find a fault in "${block}": none exercises it or anything that it feeds. Add one to the checklist.`,
      })),
    ]
  }
}

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
  return `${check.key} · ${check.stage}${check.isHold ? ', hold point' : ''} · ${check.title} · ${limitWords(check)}${after}`
}
