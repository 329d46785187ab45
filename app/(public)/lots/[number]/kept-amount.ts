import { KEPT_AS } from '#app/_ui/forms/typed-text.rules.ts'
import type { Draft } from './draft.rules'

const nameOf = (lot: number) => `${KEPT_AS}bid ${lot}`

/**
 * Keeps what somebody is about to bid, in this tab alone, through a reload and the ways to the sign-in and the paddle, until it was
 * taken. A browser that keeps nothing loses nothing but the amount.
 */
export function keepAmount(lot: number, draft: Draft): void {
  try {
    if (draft.choice === null && draft.typed === '') sessionStorage.removeItem(nameOf(lot))
    else sessionStorage.setItem(nameOf(lot), JSON.stringify(draft))
  } catch {
    // Private windows of some browsers keep nothing; the amount is then written again.
  }
}

export function keptAmount(lot: number): Draft | null {
  try {
    const kept: unknown = JSON.parse(sessionStorage.getItem(nameOf(lot)) ?? 'null')
    return isDraft(kept) ? kept : null
  } catch {
    return null
  }
}

const isDraft = (kept: unknown): kept is Draft =>
  typeof kept === 'object' &&
  kept !== null &&
  'choice' in kept &&
  (kept.choice === null || typeof kept.choice === 'string') &&
  'typed' in kept &&
  typeof kept.typed === 'string'
