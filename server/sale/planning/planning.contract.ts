import type { Minor } from '#kernel/money'

/** A point of the five-minute grid: minutes from the opening of the stream, divided by five. */
export type Slot = number

export const STEP_MINUTES = 5
export const STEPS_AN_HOUR = 60 / STEP_MINUTES

/** A lot that is to close. */
export interface Closing {
  lot: number
  /** Lots of one design are like units, kept apart; null for one of a kind. */
  design: string | null
  /** Steps that the host keeps before the closing, and after it with the allowance for extensions. */
  before: Slot
  after: Slot
  /** What it is expected to raise when it closes at each slot: estimate × audience awake. */
  value: Minor[]
  estimateMinor: Minor
  /** It cannot close before this: what has passed is past. */
  earliest: Slot
  /** What it gains by standing at the end of the stream and not at its beginning; below zero for those that belong early. */
  riseMinor: Minor
  /** Slots at which it cannot close, each from its first up to but without `to`: too near a like unit that has its time. */
  barred: { from: Slot; to: Slot }[]
}

export const WISH_KINDS = ['within', 'last', 'not-first'] as const

/** What somebody would like. `within` covers a guest's hours, "not before", "not after" and a fixed time. */
export interface Wish {
  id: string
  lot: number
  kind: (typeof WISH_KINDS)[number]
  /** For `within`: the first and the last slot that would do. */
  from: Slot
  to: Slot
  /** A pin that must be kept; otherwise keeping it counts for `weightMinor`. */
  isPin: boolean
  weightMinor: Minor
  words: string
}

export interface PlanQuestion {
  /** The stream has the slots 0 … slots. */
  slots: Slot
  closings: Closing[]
  /** What is taken already, breaks and closings that were announced, each from its first step up to but without `to`. */
  taken: { from: Slot; to: Slot }[]
  wishes: Wish[]
  /** When closings that were announced take place; they count for what is first and last. */
  announced: Slot[]
  /** Steps at least between two closings of one design; 0 where it does not matter. */
  likeApart: Slot
  /** Closings in any hour, at most, announced ones among them; 0 where it does not matter. */
  mostAnHour: number
  /** So many steps pass at most without a closing, from the slot `from` on; each step more costs. */
  silence: { from: Slot; longest: Slot; perStepMinor: Minor } | null
  /** The best lots: how far they keep apart, each step less costs; and what it costs when two close with no other between them. */
  bestApart: { lots: readonly number[]; apart: Slot; perStepMinor: Minor; nextMinor: Minor } | null
  /** Where the best lot belongs, as a share of the stream (common practice: 0.7), and what each step away from it costs. */
  best: { share: number; perStepMinor: Minor } | null
}

export interface Plan {
  /** The slot of each closing, in the order of the question. */
  at: Slot[]
  /** What the day is expected to raise, without the weights of wishes. */
  expectedMinor: Minor
  keptWishes: string[]
}

/**
 * What keeping a wish costs, by the sum that the plan is made by: money, the other wishes, the place of the best lot. So one
 * that costs less than it may is kept, and one that costs more is not.
 */
export interface WishPrice {
  wish: string
  kept: boolean
  /** Null where no plan keeps it beside what must be kept. */
  costMinor: Minor | null
  /** The cost as a share of the expected total, in hundredths of a per cent. */
  shareBp: number
}

/** A rule that could give way so that all that must be kept can be, and how far it would have to. */
export type WayOut =
  /** Like machines would stand so many steps apart. */
  | { rule: 'like-apart'; steps: Slot }
  /** So many would close in an hour. */
  | { rule: 'most-an-hour'; closings: number }
  /** Each closing would keep so many steps after it. */
  | { rule: 'after'; steps: Slot }
  /** The hours of a wish would have to reach so many steps further. */
  | { rule: 'longer' | 'earlier'; wish: string; steps: Slot }

export type PlanNews =
  | { stage: 'searching'; seconds: number; bestMinor: Minor | null; boundMinor: Minor | null }
  | { stage: 'planned'; plan: Plan; worthMinor: Minor; boundMinor: Minor }
  | { stage: 'priced'; price: WishPrice }

export type PlanAnswer =
  | { fits: true; plan: Plan; prices: WishPrice[]; seconds: number }
  /** Nothing fits: wishes from which none can be left out for it to stay so; none when the closings alone do not fit. */
  | { fits: false; together: string[]; ways: WayOut[]; seconds: number }
