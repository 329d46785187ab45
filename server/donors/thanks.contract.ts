import { z } from 'zod'

export const thanksIn = z.strictObject({
  donorId: z.string(),
  giftIds: z.array(z.string()).min(1, 'There is nothing to thank for.').max(200, 'Thank for at most 200 gifts at once.'),
  /** Said in person or by a letter of one's own: noted, nothing is sent. */
  byHand: z.boolean(),
  subject: z.string().trim().max(200, 'Keep the subject under 201 characters.').default(''),
  body: z.string().trim().max(5000, 'Keep the letter under 5001 characters.').default(''),
})
