import { downstreamOf } from './blocks.rules'
import type { Check, Feed } from './design.contract'

/**
 * A chain of steps that wait for one another for ever, if there is one: by `after`, or because a
 * hold point stops what stands below it and itself waits for that. Each link says why it waits.
 */
export function findCircle(checks: readonly Check[]): { key: string; words: string } | null {
  const byKey = new Map(checks.map((check) => [check.key, check]))
  const holds = checks.filter((check) => check.isHold)
  const settled = new Set<string>()
  for (const check of checks) {
    const chain = search(check, [])
    if (chain) return { key: chain[0]?.key ?? check.key, words: said(chain) }
  }
  return null

  function search(check: Check, path: Link[]): Link[] | null {
    const seen = path.findIndex((link) => link.key === check.key)
    if (seen >= 0) return [...path.slice(seen), { key: check.key, why: '' }]
    if (settled.has(check.key)) return null
    const needs: { next: Check | undefined; why: string }[] = [
      ...check.after.map((key) => ({ next: byKey.get(key), why: 'needs' })),
      ...holds.filter((hold) => hold.seq < check.seq).map((next) => ({ next, why: 'is held by' })),
    ]
    for (const { next, why } of needs) {
      if (!next) continue
      const found = search(next, [...path, { key: check.key, why }])
      if (found) return found
    }
    settled.add(check.key)
    return null
  }
}

interface Link {
  key: string
  why: string
}

const said = (chain: Link[]) =>
  `${chain.map(({ key, why }) => (why === '' ? key : `${key} ${why}`)).join(' ')}: none of these could ever be taken.`

/** A circle of power: a supply that, in the end, powers itself. A loop of signals is allowed, machines have them. */
export function findPowerCircle(feeds: readonly Feed[]): string | null {
  const power = feeds.filter((feed) => feed.kind === 'power')
  return power.find((feed) => downstreamOf([feed.from], power).has(feed.from))?.from ?? null
}

/** Blocks in which no check would ever find a fault: none exercises them, nor anything they feed. */
export function unreachedBlocks(blocks: readonly string[], checks: readonly Check[], feeds: readonly Feed[]): string[] {
  const exercised = new Set(checks.flatMap((check) => check.exercises))
  return blocks.filter((block) => !exercised.has(block) && ![...downstreamOf([block], feeds)].some((one) => exercised.has(one)))
}
