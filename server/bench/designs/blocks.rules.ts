import type { Check, Feed } from './design.contract'

/** Blocks that get power or signal from any of `from`, however far along; `from` itself is left out unless fed by a loop. */
export function downstreamOf(from: Iterable<string>, feeds: readonly Feed[]): Set<string> {
  return walk(from, (block) => feeds.filter((feed) => feed.from === block).map((feed) => feed.to))
}

/** Blocks that power any of `of`, directly or through another supply. */
export function powersOf(of: Iterable<string>, feeds: readonly Feed[]): Set<string> {
  return walk(of, (block) => feeds.filter((feed) => feed.to === block && feed.kind === 'power').map((feed) => feed.from))
}

/** Every check that must have passed before this one, near and far. */
export function needsOf(key: string, checks: readonly Check[]): Set<string> {
  const byKey = new Map(checks.map((check) => [check.key, check]))
  return walk([key], (one) => byKey.get(one)?.after ?? [])
}

/** Blocks of a design in an order in which none stands before what feeds it (loops in the order given). */
export function columnsOf(blocks: readonly string[], feeds: readonly Feed[]): Map<string, number> {
  const column = new Map(blocks.map((block) => [block, 0]))
  for (let round = 0; round < blocks.length; round++) {
    let moved = false
    for (const feed of feeds) {
      const wanted = (column.get(feed.from) ?? 0) + 1
      if (wanted > (column.get(feed.to) ?? 0) && wanted < blocks.length) {
        column.set(feed.to, wanted)
        moved = true
      }
    }
    if (!moved) break
  }
  return column
}

function walk(from: Iterable<string>, next: (one: string) => string[]): Set<string> {
  const seen = new Set<string>()
  const queue = [...from]
  while (queue.length > 0) {
    for (const one of next(queue.pop() ?? '')) {
      if (seen.has(one)) continue
      seen.add(one)
      queue.push(one)
    }
  }
  return seen
}
