import { z } from 'zod'
import { idIn, text } from '#kernel/text'
import { wordsIn } from '#kernel/words'

export const quarantineIn = z.strictObject({
  batchId: idIn(),
  reason: wordsIn(500, 'the reason').min(1, 'Say what is suspected: it is told to everybody who holds a piece of it.'),
})

export const tellIn = z.strictObject({
  noticeId: text(60),
  how: z.enum(['letter', 'by hand'], 'Choose how they are told.'),
  subject: wordsIn(160, 'the subject').default(''),
  body: wordsIn(4000, 'the letter').default(''),
})
