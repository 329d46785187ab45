import { z } from 'zod'
import type { EarlierIn } from '#bench/earlier/earlier.contract'
import type { Table, TableFlaw } from '#kernel/table'
import { tableChoiceIn, tableSourceIn } from '#kernel/table-in'
import { idIn, text } from '#kernel/text'
import type { PartIn } from '#stock/catalogue/part.contract'
import type { HowCounted } from '#stock/donors/count-words.rules'
import type { Anonymity, GiftKind } from '#stock/donors/donor.contract'

export const SHEET_WHATS = ['donors', 'shelf', 'machines'] as const
/** What a maker may have in a spreadsheet: who gave what, what lies on the shelf, what was built before. */
export type SheetWhat = (typeof SHEET_WHATS)[number]

/** open: being read. storing: all of it is being stored, a little at a time. stored: all of it was. */
export type SheetState = 'open' | 'storing' | 'stored'

/** As many kilobytes as five thousand rows with all that belongs there. */
export const MOST_SHEET_KB = 1000

export const beginSheetIn = z
  .strictObject({ what: z.enum(SHEET_WHATS, 'Choose what the sheet is about.'), ...tableSourceIn('The sheet', MOST_SHEET_KB) })
  .refine(({ base64, text: pasted }) => (base64 ?? '') !== '' || (pasted ?? '').trim() !== '', {
    error: 'Choose a file, or paste the rows with their heading.',
    path: ['file'],
  })

export const sheetIn = z.strictObject({ id: idIn() })

const MOST_ANSWERS = 2000
export const chooseSheetIn = z.strictObject({
  id: idIn(),
  choice: tableChoiceIn.optional(),
  /** Answers by the key of their question. */
  answers: z
    .record(text(400), text(200, 'Keep it under 200 characters.'))
    .refine((answers) => Object.keys(answers).length <= MOST_ANSWERS, 'That is more than can be answered here. Import the sheet in parts.')
    .optional(),
})

export const storeSheetIn = z.strictObject({
  id: idIn(),
  /** What was shown as what would be stored. */
  digest: text(64).regex(/^[0-9a-f]{64}$/, 'Look at the preview first.'),
})

/** Something that a sheet leaves open, and only its owner knows. */
export interface SheetQuestion {
  key: string
  /** Questions of one kind, which can be answered all at once. */
  group: string
  words: string
  options: { value: string; label: string }[]
  /** What may be typed instead. */
  typed: { label: string; type: 'date' | 'text' } | null
  answer: string | null
}

export interface PlannedGift {
  kind: GiftKind
  words: string
  part: PartIn | null
  quantity: number
  howCounted: HowCounted
  minutes: number | null
  amountMinor: number | null
  marking: string
  dateCode: string
  place: string
}

/** One thing to be stored. A donor who is not here yet is named by a key of the plan. */
export type PlanItem =
  | { is: 'donor'; donor: string; name: string; creditName: string; contact: string; anonymity: Anonymity; isStandIn: boolean }
  | { is: 'giving'; donor: string; isHere: boolean; day: string | null; note: string; isThanked: boolean; gifts: PlannedGift[] }
  | { is: 'own'; boughtFrom: string; gift: PlannedGift & { part: PartIn } }
  | { is: 'machine'; machine: EarlierIn }

export interface SheetRead {
  table: Pick<Table, 'encoding' | 'delimiter' | 'hasHeading' | 'columns'>
  /** So many rows were read; those that are shown come with their cells. */
  count: number
  rows: { line: number; understood: string; hint: string | null; cells: Record<string, string>; written?: Record<string, string> }[]
  flaws: TableFlaw[]
  questions: SheetQuestion[]
  /** What was left out or taken to be so, in sentences. */
  notes: string[]
  /** Exactly what would be stored, counted, in sentences. */
  summary: string[]
  /** Of what would be stored; null while something is to be corrected or answered. */
  digest: string | null
}
