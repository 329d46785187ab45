import { z } from 'zod'
import { idIn, idOrNone } from '#kernel/text'
import { wordsIn } from '#kernel/words'

/** What a gift is kept for: one unit, one design, or neither. */
export const restrictIn = z.strictObject({
  giftId: idIn(),
  onlyForUnitId: idOrNone(),
  onlyForDesignId: idOrNone(),
  reason: wordsIn(500, 'the reason').default(''),
})

/** Anything given that goes with a lot as an extra; no lot takes it back. */
export const putWithLotIn = z.strictObject({
  giftId: idIn(),
  lot: z.int('Choose a lot.').positive('Choose a lot.').nullable(),
})
