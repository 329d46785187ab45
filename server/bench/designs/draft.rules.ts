import { acrossLists, type Lists } from './across.rules'
import { CHECKLIST_COLUMNS, readChecklist } from './checklist.rules'
import type { Check, Feed, Flaw } from './design.contract'
import { FEEDS_COLUMNS, readFeeds } from './feeds.rules'
import type { Cells } from './written.rules'

/** A design as it is being written: rows of cells, which may hold anything yet. */
export interface DesignDraftCells {
  checklist: readonly Cells[]
  feeds: readonly Cells[]
}

export interface DraftReading {
  checks: Check[]
  feeds: Feed[]
  blocks: string[]
  /** Line n is the nth row, from 1; empty when it can be stored. */
  flaws: Flaw[]
}

/** Reads what stands in an editor as an import would read it, against the parts that the design keeps. */
export function readDraft({ checklist, feeds }: DesignDraftCells, parts: Lists['parts']): DraftReading {
  const numbered = (rows: readonly Cells[], columns: readonly { name: string }[]) =>
    rows.map((row, index) => ({ line: index + 1, cells: Object.fromEntries(columns.map(({ name }) => [name, (row[name] ?? '').trim()])) }))
  const read = readChecklist(numbered(checklist, CHECKLIST_COLUMNS))
  const fed = readFeeds(numbered(feeds, FEEDS_COLUMNS))
  const empty: Flaw[] = checklist.length === 0 ? [{ list: 'checklist', line: 0, column: '', words: 'Write at least one check.' }] : []
  const across = acrossLists(
    { checks: read.checks, parts, feeds: fed.feeds, blocks: fed.blocks },
    { feedsWereRead: true, checklistWasRead: true },
  )
  return {
    checks: read.checks.map(({ check }) => check),
    feeds: fed.feeds.map(({ feed }) => feed),
    blocks: fed.blocks,
    flaws: [...empty, ...read.flaws, ...fed.flaws, ...across],
  }
}
