import { type Ladder, stepsFrom } from '#sale/price/ladder.rules'

/** The choice of an amount of one's own, which is typed beside it. */
export const OTHER = 'other'

/** What somebody is about to bid: a step, an amount of their own, or nothing yet. */
export interface Draft {
  choice: string | null
  typed: string
}

export const NOTHING_CHOSEN: Draft = { choice: null, typed: '' }

/** A step that the price has passed is chosen no longer; what was typed by hand stays for whoever typed it. */
export const takenBack = (draft: Draft, leastMinor: number): Draft =>
  draft.choice === null || draft.choice === OTHER || Number(draft.choice) >= leastMinor ? draft : { ...draft, choice: null }

/** What a form opens with: what stood there as far as it can still be sent, or the first step. */
export const draftAtOpening = (draft: Draft, leastMinor: number, first: string): Draft => {
  const { choice, typed } = takenBack(draft, leastMinor)
  return { choice: choice ?? first, typed }
}

/** The choice that a form opens with where nothing else was chosen: the ladder's first step. */
export const firstChoice = (ladder: Ladder, leastMinor: number): string => String(stepsFrom(ladder, leastMinor, 1)[0] ?? OTHER)
