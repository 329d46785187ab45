import { z } from 'zod'
import type { Instant } from '#kernel/instant'
import { formKey, idOrNone, text } from '#kernel/text'

const key = formKey()
const tag = text(20, 'A tag is short, such as TERN-03.').min(1, 'Write the tag of the unit, such as TERN-03.')
/** The tag as the person reads or scans it on the machine itself. */
const seen = text(200, 'That is not a tag. It is short, such as TERN-03.').min(1, 'Type or scan the tag that hangs on the machine.')
const check = text(12, 'That is not the key of a check.').min(1, 'Choose a check.')
const designator = text(12, 'That is not a designator.').min(1)
const words = (least: string, most: number) => text(most, `Keep it under ${most} characters.`).min(1, least)
const onUnit = { key, tag, seen }

/** What goes into a position: so many of a batch, or the one piece that carries a tag. */
const from = {
  batchId: text(60).min(1).optional(),
  pieceTag: text(30, 'That is not the tag of a piece.').optional(),
}

export const runIn = z.strictObject({
  designId: text(60).min(1, 'Choose a design.'),
  tagPrefix: text(20, 'Write two to eight capitals for the tags, such as TERN.')
    .toUpperCase()
    .regex(/^[A-Z][A-Z0-9]{1,7}$/, 'Write two to eight capitals for the tags, such as TERN.'),
  count: z.number().int('Write a whole number.').min(1, 'Make at least one unit.').max(99, 'Make at most 99 units at a time.'),
})
export const unitsIn = z.strictObject({
  runId: text(60).min(1, 'Choose a run.'),
  count: z.number().int('Write a whole number.').min(1, 'Make at least one unit.').max(99, 'Make at most 99 units at a time.'),
})

export const fitIn = z.strictObject({
  ...onUnit,
  designators: z.array(designator).min(1, 'Choose at least one position.').max(500, 'That is more positions than a machine has.'),
  ...from,
  iron: z.boolean(),
  /** Said yes to what a late fitting undoes. */
  confirmUndo: z.boolean().default(false),
  /** Said yes to a part that stands in for the one of the list: from now on its line accepts it. */
  confirmInstead: z.boolean().optional(),
})

/** Many lines at once, each from one batch. */
export const fitAllIn = z.strictObject({
  ...onUnit,
  rows: z
    .array(
      z.strictObject({
        designators: z
          .array(designator.transform((one) => one.toUpperCase()))
          .min(1, 'Choose at least one position.')
          .max(500, 'That is more positions than a machine has.'),
        batchId: text(60).min(1),
      }),
    )
    .min(1, 'Choose at least one line.')
    .max(500, 'That is more lines than a list has.'),
  iron: z.boolean(),
})

export const correctFittingIn = z.strictObject({ ...onUnit, designator, ...from, reason: words('Say what was mistyped.', 300) })

const readingFields = {
  ...onUnit,
  check,
  entry: text(200, 'That is too long for a reading.'),
  instrumentId: idOrNone(),
  confirmThousand: z.enum(['as-written', 'shifted']).optional(),
  /** Said that a reading which is hardly what the meter showed is what it showed. */
  confirmOdd: z.boolean().optional(),
  /** What else makes it doubtful: "probe 1 %; leads 0.02 V". */
  further: text(300, 'Keep it under 300 characters.').optional(),
  hours: text(20, 'Write the hours, such as 24.').optional(),
  starts: text(20, 'Write the cold starts, such as 6.').optional(),
  /** Of a soak: it ran elsewhere, and its hours and cold starts are those that were written down. */
  isStated: z.boolean().optional(),
  ambient: text(60, 'Keep it short, such as 21 °C.').default(''),
  /** Stays at the bench. */
  note: text(500, 'Keep the note under 500 characters.').default(''),
  /** Is published, and signed with the certificate. */
  departure: text(500, 'Keep it under 500 characters.').optional(),
}
export const readingIn = z.strictObject(readingFields)
export const correctionIn = z.strictObject({ ...readingFields, reason: words('Say why you are correcting the reading.', 300) })

export const releaseIn = z.strictObject({
  ...onUnit,
  check,
  name: words('Write your name: a hold point is released by a named person.', 80),
})

export const changeIn = z.strictObject({
  designator,
  /** Empty when nothing was taken out, only touched. */
  outReason: text(300, 'Keep the reason under 300 characters.').default(''),
  /** What came out is bad and goes to no other unit. */
  outIsBad: z.boolean().default(true),
  inBatchId: idOrNone(),
  inPieceTag: text(30, 'That is not the tag of a piece.').optional(),
})

const reworkFields = {
  tag,
  iron: z.boolean(),
  changes: z.array(changeIn).max(100, 'That is too much for one entry. Split it in two.'),
  /** Blocks touched beside the positions: a wire, a screw, a setting. */
  blocks: z.array(text(60)).max(40).default([]),
}
export const previewReworkIn = z.strictObject(reworkFields)
export const reworkIn = z.strictObject({
  key,
  seen,
  ...reworkFields,
  failedCheck: check.optional(),
  fault: words('Say what was found wrong.', 500),
  changed: words('Say what was changed to mend it.', 500),
})

export const atRevisionIn = z.strictObject({ designId: text(60).min(1, 'Choose a revision.') })
export const startSoakIn = z.strictObject({ ...onUnit, check })
export const coldStartIn = z.strictObject(onUnit)
export const soakNoteIn = z
  .strictObject({
    ...onUnit,
    power: z.enum(['off', 'on'], 'Say whether the power went off or came on again.').optional(),
    temperature: text(40, 'Keep it short, such as 31 °C.').default(''),
    supply: text(60, 'Keep it short, such as 12.1 V, 0.34 A.').default(''),
    note: text(300, 'Keep the note under 300 characters.').default(''),
  })
  .refine(({ power, temperature, supply, note }) => power !== undefined || `${temperature}${supply}${note}` !== '', {
    path: ['note'],
    message: 'Write the temperature, the supply or a note.',
  })
export const stopSoakIn = z.strictObject({ ...onUnit, reason: words('Say why the soak is stopped without a result.', 300) })
export const moveIn = z.strictObject({
  key,
  tag,
  designId: text(60).min(1, 'Choose a revision.'),
  /** Checks that would carry over and are to be taken anew all the same. */
  alsoRetake: z.array(check).max(500).default([]),
})
export const setAsideIn = z.strictObject({ tag, reason: words('Say why it must not go on.', 300) })
export const tagIn = z.strictObject({ tag })

const day = text(20, 'Write the day, such as 2027-03-13.').regex(/^\d{4}-\d\d-\d\d$/, 'Write the day, such as 2027-03-13.')
export const instrumentIdIn = z.strictObject({ id: text(60).min(1) })
export const instrumentIn = z.strictObject({
  id: text(60).min(1).optional(),
  name: words('Write its name, such as Bench meter no. 2.', 80),
  accuracy: words('Write its accuracy, such as ±(0.5 % + 2 digits).', 300),
  checkedOn: day,
  dueOn: day,
  checkedBy: text(80, 'Keep it under 80 characters.').optional(),
  checkedAgainst: text(120, 'Keep it under 120 characters.').optional(),
})

/** An instrument as it was when something was read with it. */
export interface InstrumentThen {
  name: string
  accuracy: string
  checkedAt: Instant
  dueAt: Instant
}
