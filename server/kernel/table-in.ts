import { z } from 'zod'
import { ENCODINGS } from './encoding'
import { fileText, text } from './text'

export const DELIMITERS = ['comma', 'semicolon', 'tab', 'bar'] as const

/** How a table is to be read where what was found out is not right. */
const choiceIn = {
  encoding: z.enum(ENCODINGS, 'Choose how the file is written.').optional(),
  delimiter: z.enum(DELIMITERS, 'Choose what separates the columns.').optional(),
  hasHeading: z.boolean().optional(),
  /** What each column of the table is taken for, from the left; empty leaves it out. */
  columns: z.array(text(40)).max(100).optional(),
  /** Cells that are meant otherwise than they are written, by the line of the file and the column they were taken for. */
  mends: z
    .array(z.strictObject({ line: z.int().min(1).max(20_000), column: text(40), text: text(600, 'Keep it under 600 characters.') }))
    .max(300, 'That is more than 300 cells to mend. Mend them in the file, and choose it again.')
    .optional(),
}
export type TableChoice = z.output<z.ZodObject<typeof choiceIn>>

export const tableChoiceIn = z.strictObject(choiceIn)

/** A table's bytes or text as it is sent, of `most` kB. `what` begins its refusals. */
export const tableSourceIn = (what: string, most: number) => ({
  name: text(200).default(''),
  /** The file's bytes in base64, or the pasted text; one of the two. */
  base64: fileText(Math.ceil((most * 4000) / 3), `${what}: that is more than ${most} kB. Is it the right file?`).optional(),
  text: fileText(most * 1000, `${what}: that is more than ${most},000 characters. Is it the right list?`).optional(),
})

/** A table as it is sent: a file, or what was pasted, with what was chosen about how to read it. */
export const tableIn = (what: string) => z.strictObject({ ...choiceIn, ...tableSourceIn(what, 300) })
