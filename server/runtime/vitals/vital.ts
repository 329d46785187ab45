import type { Instant } from '#kernel/instant'

/** Good, worth a look, or bad: somebody has to do something. */
export type Standing = 'good' | 'look' | 'bad'

/** The unit of a figure. Times are in seconds and sizes in bytes, as in the figures for a scraper. */
export type Unit = 'seconds' | 'bytes' | 'count'

/** What a look at something finds. */
export interface Finding {
  /** In the unit of what is watched; null where there is nothing to measure, or not yet. */
  value: number | null
  standing: Standing
  /** One sentence for a person: how it stands. */
  words: string
  /** What somebody should do; null where there is nothing to do. */
  toDo: string | null
  /** It is bad, and not yet so bad that people had better be sent elsewhere. */
  isReadyStill?: boolean
  /** Further figures of it, for whoever reads figures alone. */
  also?: readonly Figure[]
}

export interface Figure {
  key: string
  unit: Unit
  help: string
  value: number
}

/**
 * Something that is watched. To add one, write a pure rule that makes a `Finding` of what was measured, and hand this to
 * `watch` of the open house's vitals, or put it into a list that the house opens with. The page, the letter to the maker,
 * `/metrics`, `/api/health` and `/api/ready` follow from it.
 */
export interface Watched {
  /** Small letters and hyphens. It stays as it is, since figures and letters are named by it. */
  key: string
  /** As the page calls it. */
  name: string
  unit: Unit
  /** What the figure is, for whoever reads figures alone. */
  help: string
  /** Within these it is not bad; a gauge is drawn where there is one. */
  limits?: Limits
  /** What anybody may read at `/api/ready` while it is bad. Without it the house is ready all the same. It names no figure, path or name. */
  whenNotReady?: string
  /** Measures and judges; asked every few seconds on the house's own thread, so it takes a millisecond at most. */
  look(now: Instant): Finding
}

export interface Limits {
  lower: number | null
  upper: number | null
}

/** How one of what is watched stands at present. */
export interface Vital extends Finding {
  key: string
  name: string
  unit: Unit
  help: string
  limits: Limits
  /** Since when it has stood as it does. */
  since: Instant
  whenNotReady: string | null
}

/** How something stood during one piece of the last hours: its last figure, and the worst of it. */
export interface Piece {
  at: Instant
  value: number | null
  standing: Standing
}

export const WORSE: Readonly<Record<Standing, number>> = { good: 0, look: 1, bad: 2 }
