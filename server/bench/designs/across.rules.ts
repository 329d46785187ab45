import type { Check, Feed, Flaw } from './design.contract'
import { findCircle, findPowerCircle, unreachedBlocks } from './order.rules'

/** The lists of a design as read, each entry with its line. */
export interface Lists {
  checks: readonly { line: number; check: Check }[]
  parts: readonly { line: number; blocks: readonly string[]; fittedAfter: string | null }[]
  feeds: readonly { line: number; feed: Feed }[]
  blocks: readonly string[]
}

/**
 * What is wrong between the lists: a block or a check that another list does not know, checks that wait for each other
 * for ever, a supply that powers itself, a block that no check would find a fault in. A list that could not be read is
 * left out of it.
 */
export function acrossLists(
  lists: Lists,
  { feedsWereRead, checklistWasRead }: { feedsWereRead: boolean; checklistWasRead: boolean },
): Flaw[] {
  return [
    ...(feedsWereRead ? [...inChecklist(lists), ...blocksNotIn(lists.blocks, lists.parts), ...feedFlaws(lists, checklistWasRead)] : []),
    ...(checklistWasRead ? [...checksNotIn(checksIn(lists), lists.parts), ...circleFlaws(lists)] : []),
  ]
}

const checksIn = ({ checks }: Lists) => checks.map(({ check }) => check)

function inChecklist({ checks, blocks }: Lists): Flaw[] {
  const known = new Set(blocks)
  return checks.flatMap(({ line, check }) => unknownBlocks(known, 'checklist', 'exercises', line, check.exercises))
}

/** Blocks and checks that a parts list names and the other lists do not have. */
export function unknownInParts(parts: Lists['parts'], lists: { blocks: readonly string[]; checks: readonly Check[] }): Flaw[] {
  return [...blocksNotIn(lists.blocks, parts), ...checksNotIn(lists.checks, parts)]
}

function blocksNotIn(blocks: readonly string[], parts: Lists['parts']): Flaw[] {
  const known = new Set(blocks)
  return parts.flatMap((row) => unknownBlocks(known, 'partsList', 'blocks', row.line, row.blocks))
}

function checksNotIn(checks: readonly Check[], parts: Lists['parts']): Flaw[] {
  const known = new Set(checks.map(({ key }) => key))
  return parts.flatMap(({ line, fittedAfter }) => {
    if (fittedAfter === null || known.has(fittedAfter)) return []
    const words = `${fittedAfter} is not a step of the checklist. Write the key of one that is, or leave it empty.`
    return [{ list: 'partsList' as const, line, column: 'after', words }]
  })
}

const unknownBlocks = (known: ReadonlySet<string>, list: Flaw['list'], column: string, line: number, names: readonly string[]): Flaw[] =>
  names
    .filter((block) => !known.has(block))
    .map((block) => ({
      list,
      line,
      column,
      words: `"${block}" is not in the list of feeds. Add it there, or write the block as it is written there.`,
    }))

function circleFlaws({ checks }: Lists): Flaw[] {
  const circle = findCircle(checks.map(({ check }) => check))
  if (!circle) return []
  const line = checks.find(({ check }) => check.key === circle.key)?.line ?? 0
  return [{ list: 'checklist', line, column: 'after', words: circle.words }]
}

function feedFlaws({ checks, feeds: rows, blocks }: Lists, checklistWasRead: boolean): Flaw[] {
  const feeds = rows.map(({ feed }) => feed)
  const circle = findPowerCircle(feeds)
  const lineOf = (block: string) => rows.find(({ feed }) => feed.from === block || feed.to === block)?.line ?? 0
  const at = (block: string, words: string): Flaw => ({ list: 'feeds', line: lineOf(block), column: 'from', words })
  const unreached = checklistWasRead
    ? unreachedBlocks(
        blocks,
        checks.map(({ check }) => check),
        feeds,
      )
    : []
  return [
    ...(circle === null ? [] : [at(circle, `${circle} would power itself in a loop. Break the loop.`)]),
    ...unreached.map((block) =>
      at(block, `No check would find a fault in "${block}": no check exercises it or anything it feeds. Add one to the checklist.`),
    ),
  ]
}
