import { z } from 'zod'
import { idIn, text } from '#kernel/text'

const letter = {
  donorId: idIn(),
  /** Said in person or by a letter of one's own: noted, nothing is sent. */
  byHand: z.boolean(),
  subject: text(200, 'Keep the subject under 201 characters.').default(''),
  body: text(5000, 'Keep the letter under 5001 characters.').default(''),
}

/** The first thanks, for what has arrived. */
export const thanksIn = z.strictObject({
  ...letter,
  giftIds: z.array(idIn()).min(1, 'Choose what to thank them for.').max(200, 'Thank for at most 200 gifts at once.'),
})

/** The second, for what has been sold. */
export const soldThanksIn = z.strictObject(letter)
