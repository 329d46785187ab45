import { z } from 'zod'

const letter = {
  donorId: z.string(),
  /** Said in person or by a letter of one's own: noted, nothing is sent. */
  byHand: z.boolean(),
  subject: z.string().trim().max(200, 'Keep the subject under 201 characters.').default(''),
  body: z.string().trim().max(5000, 'Keep the letter under 5001 characters.').default(''),
}

/** The first thanks, for what has arrived. */
export const thanksIn = z.strictObject({
  ...letter,
  giftIds: z.array(z.string()).min(1, 'There is nothing to thank for.').max(200, 'Thank for at most 200 gifts at once.'),
})

/** The second, for what has been sold. */
export const soldThanksIn = z.strictObject(letter)
