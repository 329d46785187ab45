import type { GiftState } from './donor.contract'

/** Where a gift line may go from each state. Suspect pieces are never given back: from quarantine only to inspection or destruction. */
const MOVES: Record<GiftState, readonly GiftState[]> = {
  promised: ['on its way', 'arrived', 'declined'],
  'on its way': ['arrived', 'declined'],
  arrived: ['counted', 'quarantined', 'returned', 'destroyed'],
  counted: ['inspected', 'available', 'quarantined', 'returned', 'destroyed'],
  inspected: ['available', 'quarantined', 'returned', 'destroyed'],
  available: ['fitted', 'spare', 'quarantined', 'returned', 'destroyed'],
  fitted: ['available', 'quarantined'],
  spare: ['available', 'fitted', 'quarantined', 'returned', 'destroyed'],
  quarantined: ['inspected', 'destroyed'],
  declined: [],
  returned: [],
  destroyed: [],
}

const NEEDS_REASON: readonly GiftState[] = ['declined', 'quarantined', 'returned', 'destroyed']

/** Promised is never counted as in hand. */
export const isOutstanding = (state: GiftState): boolean => state === 'promised' || state === 'on its way'

export const movesFrom = (state: GiftState): readonly GiftState[] => MOVES[state]

export type MoveDecision = { ok: true } | { ok: false; field: 'to' | 'reason'; words: string }

export function decideMove(from: GiftState, to: GiftState, reason: string): MoveDecision {
  if (!MOVES[from].includes(to)) {
    const open = MOVES[from]
    const next = open.length === 0 ? `A gift that was ${from} stays so.` : `From "${from}" it can go to ${listWords(open)}.`
    return { ok: false, field: 'to', words: `A gift cannot go from "${from}" to "${to}". ${next}` }
  }
  if (NEEDS_REASON.includes(to) && reason.trim() === '') return { ok: false, field: 'reason', words: `Say why it is ${to}.` }
  return { ok: true }
}

export const listWords = (words: readonly string[], last = 'or'): string =>
  words.length < 2 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} ${last} ${words.at(-1)}`

export interface PromisedLine {
  giftId: string
  donorId: string
  partId: string | null
  words: string
  quantity: number
  promisedAt: number
}

/** What came, laid against what was promised: how many of each promise it fulfils, and how many nobody had promised. */
export interface Arrival {
  takes: { giftId: string; came: number; stillPromised: number }[]
  unpromised: number
}

/**
 * Lays `quantity` pieces of a part from one donor against that donor's promises of it. A promise of exactly
 * that many comes first, then the oldest; the last promise touched is split, and keeps what has not come.
 */
export function suggestPromises(promises: readonly PromisedLine[], donorId: string, partId: string, quantity: number): Arrival {
  const waiting = promises
    .filter((promise) => promise.donorId === donorId && promise.partId === partId)
    .sort((a, b) => Number(b.quantity === quantity) - Number(a.quantity === quantity) || a.promisedAt - b.promisedAt)
  const takes: Arrival['takes'] = []
  let left = quantity
  for (const promise of waiting) {
    if (left === 0) break
    const came = Math.min(left, promise.quantity)
    takes.push({ giftId: promise.giftId, came, stillPromised: promise.quantity - came })
    left -= came
  }
  return { takes, unpromised: left }
}

/**
 * Who may have sent what came from nobody known: those who promised such parts, with how many of the lines their
 * promises meet. Lines met in their very number count before lines met at all; among equals the oldest promise first.
 */
export function likelySenders(
  promises: readonly PromisedLine[],
  came: readonly { partId: string | null; quantity: number }[],
): { donorId: string; exact: number; lines: number }[] {
  const found = new Map<string, { donorId: string; exact: number; lines: number; since: number }>()
  for (const { partId, quantity } of came) {
    if (partId === null) continue
    const meant = promises.filter((promise) => promise.partId === partId)
    for (const donorId of new Set(meant.map((promise) => promise.donorId))) {
      const own = meant.filter((promise) => promise.donorId === donorId)
      const before = found.get(donorId) ?? { donorId, exact: 0, lines: 0, since: Number.POSITIVE_INFINITY }
      found.set(donorId, {
        donorId,
        exact: before.exact + Number(own.some((promise) => promise.quantity === quantity)),
        lines: before.lines + 1,
        since: Math.min(before.since, ...own.map((promise) => promise.promisedAt)),
      })
    }
  }
  return [...found.values()]
    .sort((a, b) => b.exact - a.exact || b.lines - a.lines || a.since - b.since || (a.donorId < b.donorId ? -1 : 1))
    .map(({ donorId, exact, lines }) => ({ donorId, exact, lines }))
}

export interface Restriction {
  onlyForUnitId: string | null
  onlyForDesignId: string | null
}

/** A restricted gift goes where its donor said, or nowhere. */
export function mayGoTo(restriction: Restriction, unit: { unitId: string; designId: string }): boolean {
  if (restriction.onlyForUnitId !== null) return restriction.onlyForUnitId === unit.unitId
  if (restriction.onlyForDesignId !== null) return restriction.onlyForDesignId === unit.designId
  return true
}
