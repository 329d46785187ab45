import type { ListChangesIn } from '#people/changes/changes.contract'

/** The address of a page of the record; what is not chosen stands not in it. */
export function recordAddress({ kind, by, below }: ListChangesIn): string {
  const asked = new URLSearchParams()
  if (kind !== null) asked.set('kind', kind)
  if (by !== null) asked.set('by', by)
  if (below !== null) asked.set('below', String(below))
  return asked.size === 0 ? '/bench/record' : `/bench/record?${asked}`
}
