import type { Instant } from '#kernel/instant'
import type { DayFacts, DayWish } from './question.rules'

/** A wish that no plan decides: its lot was announced, so its closing stands, and with it whether the wish is kept. */
export interface SettledWish {
  at: Instant
  isKept: boolean
}

/** What became of a wish whose lot was announced; null where the plan still places the lot. */
export function settledWish(wish: DayWish, { lots, items }: Pick<DayFacts, 'lots' | 'items'>): SettledWish | null {
  const at = lots.find(({ number }) => number === wish.lot)?.announcedAt ?? null
  return at === null ? null : { at, isKept: isKept(wish, at, items) }
}

function isKept({ kind, lot, guestItemId, at: wished }: DayWish, at: Instant, items: DayFacts['items']): boolean {
  const guest = items.find(({ id }) => id === guestItemId)
  const others = items.filter((item) => item.kind === 'closing' && item.lot !== lot).map(({ startsAt }) => startsAt)
  switch (kind) {
    case 'guest':
      return guest !== undefined && at >= guest.startsAt && at <= guest.endsAt
    case 'not-before':
      return at >= (wished ?? at)
    case 'not-after':
      return at <= (wished ?? at)
    case 'at':
      return at === wished
    case 'last':
      return others.every((other) => other < at)
    case 'not-first':
      return others.length === 0 || others.some((other) => other < at)
  }
}
