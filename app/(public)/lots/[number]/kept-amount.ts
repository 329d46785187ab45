import type { Draft } from './draft.rules'

/** What somebody was about to bid when they had to go and do something else first. */
export type KeptAmount = Draft & { choice: string }

const nameOf = (lot: number) => `tagstrip-bid-${lot}`

/** Keeps it in this tab alone, until it is taken again. A browser that keeps nothing loses nothing but the amount. */
export function keepAmount(lot: number, amount: KeptAmount): void {
  try {
    sessionStorage.setItem(nameOf(lot), JSON.stringify(amount))
  } catch {
    // Private windows of some browsers keep nothing; the amount is then written again.
  }
}

export function takeAmount(lot: number): KeptAmount | null {
  try {
    const kept: unknown = JSON.parse(sessionStorage.getItem(nameOf(lot)) ?? 'null')
    sessionStorage.removeItem(nameOf(lot))
    return isAmount(kept) ? kept : null
  } catch {
    return null
  }
}

const isAmount = (kept: unknown): kept is KeptAmount =>
  typeof kept === 'object' &&
  kept !== null &&
  'choice' in kept &&
  typeof kept.choice === 'string' &&
  'typed' in kept &&
  typeof kept.typed === 'string'
