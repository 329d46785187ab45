import { z } from 'zod'
import type { TableFlaw } from '#kernel/table'
import { type TableChoice, tableIn } from '#kernel/table-in'
import { text } from '#kernel/text'
import { PLACEMENT_UNITS } from './placement.rules'

/** What a design says, in the form that rules and screens share. */
export const CHECK_KINDS = ['measure', 'count', 'match', 'yesno', 'soak'] as const
export type CheckKind = (typeof CHECK_KINDS)[number]

export const FEED_KINDS = ['power', 'signal'] as const
export type FeedKind = (typeof FEED_KINDS)[number]

/** What a stage is to the order of the work, whatever it is called and in whichever language. */
export const STAGE_KINDS = ['visual', 'cold', 'rails', 'close-out', 'other'] as const
export type StageKind = (typeof STAGE_KINDS)[number]

export const DECISION_RULES = ['simple', 'guarded', 'guarded-with-doubt'] as const
export type DecisionRule = (typeof DECISION_RULES)[number]

export interface Check {
  key: string
  /** Place in the checklist, from 1. */
  seq: number
  stage: string
  stageKind: StageKind
  isHold: boolean
  /** A hold point that whoever took its reading cannot release. */
  fourEyes: boolean
  /** No power goes on for a later check before this one stands passed, and released if it holds. */
  gatesPower: boolean
  title: string
  kind: CheckKind
  nominal: number | null
  /** A limit that is null is open on that side. */
  lower: number | null
  upper: number | null
  /** How the limits were written, where not as figures: "−5 %", "+100 ppm". */
  limitsAs?: { lower: string | null; upper: string | null } | undefined
  /** Decimals in which the checklist writes its limits. */
  decimals: number
  unit: string
  /** At how many hertz it is measured; null where that is not said. */
  frequency: number | null
  after: string[]
  exercises: string[]
  isPowered: boolean
  minutes: number
  soakHours: number | null
  coldStarts: number | null
  plain: string
  caution: string
  onFailure: string
  /** SHA-256 of the image, or the identification code in hexadecimal; only for a match. */
  expects: string | null
  /** How its buyer repeats it; there is none for a check that stays at the bench. */
  atHome?: AtHome | undefined
}

/** What the maker says of a check that is opened for home; any of it may be empty, but not all. */
export interface AtHome {
  /** Where to touch, and with what. */
  touch: string
  needs: string
  /** What to look and listen for without a meter. */
  signs: string
}

export interface Feed {
  from: string
  to: string
  kind: FeedKind
  /** Where it can be probed, and what is to be seen there: "U2 pin 8", "9.0 V". */
  point?: string
  expects?: string
}

export interface Position {
  designator: string
  partId: string
  blocks: string[]
  /** The check after which this position is first fitted; null means from the start. */
  fittedAfter: string | null
  isProgrammed: boolean
}

const partsListTable = tableIn('Parts list').extend({
  /** The block of rows that name none. */
  block: text(80).optional(),
})
export type PartsListChoice = TableChoice & Pick<z.output<typeof partsListTable>, 'block'>

export const designIn = z.strictObject({
  key: text(40, 'Write a short key in lower-case letters, digits and hyphens, such as saltmarsh-sr3.').regex(
    /^[a-z0-9][a-z0-9-]{1,39}$/,
    'Write a short key in lower-case letters, digits and hyphens, such as saltmarsh-sr3.',
  ),
  name: text(80, 'Keep the name under 80 characters.').min(1, 'Write the name of the machine.'),
  revision: text(20, 'Keep the revision under 20 characters.').min(1, 'Write the revision, such as C or 1.2.'),
  decisionRule: z.enum(DECISION_RULES, 'Choose how a reading is judged: simple, guarded, or guarded with doubt.'),
  quirks: text(2000, 'Keep the quirks under 2000 characters.').default(''),
  cautions: text(2000, 'Keep the cautions under 2000 characters.').default(''),
  checklist: tableIn('Checklist'),
  partsList: partsListTable,
  feeds: tableIn('Feeds'),
})
export type DesignIn = z.input<typeof designIn>

/** A parts list of its own, for a design that is there. A new revision gets the same checklist and feeds. */
export const partsListIn = z.strictObject({
  designId: text(60).min(1),
  partsList: partsListTable,
  revision: text(20, 'Keep the revision under 20 characters.').default(''),
})

const idOf = text(60).min(1)

export const acceptIn = z.strictObject({
  lineId: idOf,
  partId: idOf,
  reason: text(500, 'Keep the reason under 500 characters.').min(1, 'Say why it can be used instead.'),
})

export const chooseTellingIn = z.strictObject({
  designId: idOf,
  checks: z.array(text(40)).max(500, 'Choose fewer checks.'),
})

export const refuseIn = z.strictObject({ lineId: idOf, partId: idOf })

const cells = z
  .record(text(40), text(600, 'Keep it under 600 characters.'))
  .refine((row) => Object.keys(row).length <= 40, 'Use forty columns at most.')
export const reviseIn = z.strictObject({
  fromDesignId: text(60).min(1),
  revision: designIn.shape.revision,
  decisionRule: designIn.shape.decisionRule,
  quirks: designIn.shape.quirks,
  cautions: designIn.shape.cautions,
  checklist: z.array(cells).max(500, 'Use 500 checks at most.'),
  feeds: z.array(cells).max(500, 'Use 500 rows at most.'),
})
export const rowsIn = z.strictObject({ list: z.enum(['checklist', 'feeds']), sheet: designIn.shape.checklist })

/** One thing that stops an import. */
export interface Flaw extends TableFlaw {
  list: 'checklist' | 'partsList' | 'feeds'
}

/** Where parts sit on the board, as fabrication houses take it; the unit where it is not the one that was found. */
export const previewPlacementIn = z.strictObject({
  designId: text(60).min(1),
  sheet: tableIn('Placement file'),
  unit: z.enum(PLACEMENT_UNITS, 'Choose the unit of the figures.').optional(),
})
/** `confirmGuesses`: what the columns and the unit were guessed to be is so. */
export const placementIn = previewPlacementIn.extend({ confirmGuesses: z.boolean().optional() })
