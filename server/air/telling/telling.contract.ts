import { z } from 'zod'
import { text } from '#kernel/text'
import { dayNumber } from '#sale/programme/programme.contract'

/** When a recording begins, by the stream's clock to the second; empty is when the stream opens. */
export const describeIn = z.strictObject({
  day: dayNumber,
  begins: text(40, 'Write when the recording begins like 19:58:30, or leave it empty.')
    .transform((written) => written.normalize('NFKC').trim())
    .pipe(z.string().regex(/^(([01]\d|2[0-3]):[0-5]\d:[0-5]\d)?$/, 'Write when the recording begins like 19:58:30, or leave it empty.')),
})
