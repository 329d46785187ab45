import { formKey, text } from '#kernel/text'

// What the forms that write into the journal have in common.

export const key = formKey()

/** Money as typed; it is read in the campaign's currency where that is known. */
export const amount = text(40, 'That is too long for an amount.').min(1, 'Write an amount.')
export const reference = text(80, 'Keep the reference under 81 characters.').default('')
/** The day on the bank's paper; empty is today. */
export const on = text(20, 'Write the day like 2027-03-14, or leave it empty for today.')
  .regex(/^(\d{4}-\d\d-\d\d)?$/, 'Write the day like 2027-03-14, or leave it empty for today.')
  .default('')

export const why = text(200, 'Keep the reason under 201 characters.').min(3, 'Say why, so that it can be understood later.')

/** Who the money is from, in the words of the person who books it. */
export const fromWhom = text(120, 'Keep the name under 121 characters.').min(1, 'Write who it is from. "A friend" will do.')

export interface Written {
  entryId: string
}
