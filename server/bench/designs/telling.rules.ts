import { columnsOf } from './blocks.rules'
import type { Check, Feed } from './design.contract'

/** As many readings as a bidder takes in at a glance. */
export const MOST_TELLING = 8

/** Whether a check ends in a figure between limits, so that its reading can stand on a gauge. */
export const isOnScale = ({ kind, lower, upper }: Pick<Check, 'kind' | 'lower' | 'upper'>): boolean =>
  (kind === 'measure' || kind === 'count') && (lower !== null || upper !== null)

interface Design {
  checks: readonly Check[]
  blocks: readonly string[]
  feeds: readonly Feed[]
}

/** Every check that ends in a figure, function before supply: by the last block that it exercises, then the later in the checklist. */
export function functionFirst({ checks, blocks, feeds }: Design): Check[] {
  const column = columnsOf(blocks, feeds)
  const reach = ({ exercises }: Check) => Math.max(-1, ...exercises.map((block) => column.get(block) ?? -1))
  return checks.filter(isOnScale).sort((a, b) => reach(b) - reach(a) || b.seq - a.seq)
}

/**
 * The checks whose readings tell most of what a machine is for, where its maker has chosen none: one from each block, those
 * that everything else feeds before the supply.
 */
export function usualTelling(design: Design): string[] {
  const inOrder = functionFirst(design)
  const column = columnsOf(design.blocks, design.feeds)
  const telling = new Set<string>()
  for (const block of [...design.blocks].sort((a, b) => (column.get(b) ?? 0) - (column.get(a) ?? 0))) {
    const found = inOrder.find(({ key, exercises }) => exercises.includes(block) && !telling.has(key))
    if (found) telling.add(found.key)
  }
  return [...telling].slice(0, MOST_TELLING)
}
