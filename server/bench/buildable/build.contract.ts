import { z } from 'zod'
import { text } from '#kernel/text'
import type { Stock } from '#stock/shelf/shelf.contract'

/** How much it matters that a unit is built, where not all can be: first, as the others, or last. */
export const IMPORTANCES = [1, 2, 3] as const
export type Importance = (typeof IMPORTANCES)[number]
export const IMPORTANCE_WORDS: Record<Importance, string> = { 1: 'first', 2: 'as the others', 3: 'last' }

/** So many of one part, or of a part that is accepted in its place. */
export interface NeedLine {
  /** The line of the parts list. */
  lineId: string
  partId: string
  /** Substitutes, the preferred first. */
  accepts: readonly string[]
  quantity: number
}

/** What one unit still lacks before it is fully fitted. Units come in the order in which they should be built. */
export interface UnitNeeds {
  unitId: string
  tag: string
  designId: string
  designName: string
  importance: Importance
  lines: NeedLine[]
}

/** Pieces that are promised or on their way, and the civil day on which they are expected, if anybody said. */
export interface Coming extends Stock {
  giftId: string
  /** What is late together: the lines of one donor. */
  parcel: string
  isOnItsWay: boolean
  expectedOn: string | null
}

export interface BuildQuestion {
  units: UnitNeeds[]
  stock: Stock[]
  coming: Coming[]
  /** The last civil day on which a part may come for its unit to be ready; null: nobody has said. */
  lastUsefulDay: string | null
}

/** Where the pieces for one line of a unit stand. */
export interface LineOutlook {
  lineId: string
  partId: string
  /** In hand and kept for this unit; `instead` of them are substitutes. */
  there: number
  instead: number
  onItsWay: number
  promised: number
  missing: number
}

export interface UnitPlan {
  unitId: string
  buildable: boolean
  lines: LineOutlook[]
}

export interface Unblocker {
  partId: string
  /** How many are not in hand, over all units. */
  short: number
  /** How many more units could be built if there were enough of it, and which. */
  gain: number
  frees: string[]
  waiting: string[]
}

export interface Delay {
  parcel: string
  expectedOn: string
  /** A week after that. */
  lateOn: string
  /** Units that would be ready in time and then would not. */
  misses: string[]
  /** How many fewer units that is when everything is planned anew. */
  fewer: number
}

export interface BuildAnswer {
  units: UnitPlan[]
  unblockers: Unblocker[]
  delays: Delay[]
  /** Ready in time if everything comes when it is expected; unit ids. */
  inTime: string[]
}

export const importanceIn = z.strictObject({
  unitIds: z.array(text(60)).min(1, 'Choose at least one unit.').max(200, 'Choose 200 units at most.'),
  importance: z.union(
    IMPORTANCES.map((one) => z.literal(one)),
    'Choose first, like the others, or last.',
  ),
})

const DAY = /^\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])$/
const dayIn = text(20, 'Write a day such as 2027-03-09.').refine(
  (day) => day === '' || (DAY.test(day) && new Date(`${day}T00:00:00Z`).toISOString().startsWith(day)),
  {
    error: 'Write a day such as 2027-03-09.',
  },
)

export const readyIn = z.strictObject({
  readyOn: dayIn.default(''),
  benchDays: z
    .union([z.number(), text(40)])
    .transform((raw) => String(raw).normalize('NFKC').trim())
    .refine((text) => /^\d{1,3}$/.test(text) && Number(text) <= 365, 'Write the days as a whole number from 0 to 365, such as 3.')
    .transform(Number),
})

export const expectedIn = z.strictObject({ giftId: text(60), expectedOn: dayIn })
