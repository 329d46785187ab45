// What the checkers of this folder have in common. They share nothing with the house: they are written from its public documents.
import { createHash } from 'node:crypto'

// biome-ignore lint/suspicious/noExplicitAny: what is checked here comes from a stranger and has no type yet.
export type Anything = any

export const must = (holds: unknown, words: string): void => {
  if (!holds) throw new Error(words)
}

export const sha256 = (...parts: (Buffer | string)[]): Buffer => {
  const hash = createHash('sha256')
  for (const part of parts) hash.update(part)
  return hash.digest()
}

export function canonical(value: Anything): string {
  if (Array.isArray(value)) return `[${value.map(canonical).join(',')}]`
  if (typeof value !== 'object' || value === null) return JSON.stringify(value)
  const members = Object.keys(value).sort()
  return `{${members.map((name) => `${JSON.stringify(name)}:${canonical(value[name])}`).join(',')}}`
}

export const hasExactly = (object: Anything, names: readonly string[]): boolean =>
  typeof object === 'object' && object !== null && Object.keys(object).sort().join() === [...names].sort().join()
