import { z } from 'zod'
import { text } from '#kernel/text'

/** A tag or code as typed or scanned; the address that a label carries is taken as well. */
export const findIn = z.strictObject({
  code: text(300, 'That is too long for a tag.').min(1, 'Scan a label, or type what is printed below its code.'),
})
