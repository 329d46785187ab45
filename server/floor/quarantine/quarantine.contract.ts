import { z } from 'zod'
import { wordsIn } from '#kernel/words'

export const quarantineIn = z.strictObject({
  batchId: z.string(),
  reason: wordsIn(500, 'the reason').min(1, 'Say what is suspected: it is told to everybody who holds a piece of it.'),
})

export const tellIn = z.strictObject({
  noticeId: z.string().max(60),
  how: z.enum(['letter', 'by hand'], 'Choose how they are told.'),
  subject: wordsIn(160, 'the subject').default(''),
  body: wordsIn(4000, 'the letter').default(''),
})
