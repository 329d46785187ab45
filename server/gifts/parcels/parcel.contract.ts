import { z } from 'zod'
import { countIn } from '#kernel/count'
import { formKey, idIn, idOrNone, sha256In } from '#kernel/text'
import { wordsIn } from '#kernel/words'
import { partIn } from '#stock/catalogue/part.contract'
import { HOW_COUNTED, type HowCounted } from '#stock/donors/count-words.rules'
import { donorIn } from '#stock/donors/donor.contract'

const lineIn = z.strictObject({
  promiseId: idOrNone(),
  partId: idOrNone(),
  /** A part that the catalogue does not have yet, which whoever logs it has said yes to. */
  newPart: partIn.optional(),
  words: wordsIn(200, 'what it is').default(''),
  /** Left out of what is not counted yet. */
  quantity: countIn(1_000_000, 'how many').optional(),
  howCounted: z.enum(HOW_COUNTED, 'Say whether it was counted.').default('counted'),
  marking: wordsIn(80, 'the marking').default(''),
  dateCode: wordsIn(40, 'the date code').default(''),
  /** "Only for the third receiver": kept for one unit, or for one design. */
  onlyForUnitId: idOrNone(),
  onlyForDesignId: idOrNone(),
})

/** Two records of one donor become one: which is kept, and which is given up. */
export const mergeIn = z.strictObject({ keptId: idIn(), goneId: idIn() })

/** A gift in words that is a part: one of the catalogue, or a new one. */
export const nameGiftIn = z.strictObject({
  giftId: idIn(),
  partId: idOrNone(),
  newPart: partIn.optional(),
  marking: wordsIn(80, 'the marking').default(''),
  dateCode: wordsIn(40, 'the date code').default(''),
})

export const claimIn = z.strictObject({ parcelId: idIn(), donorId: idIn() })

export const parcelIn = z.strictObject({
  /** Made by the phone, and used again when it sends again: one parcel, however often it is sent. */
  key: formKey(),
  donorId: idOrNone(),
  newDonor: donorIn.optional(),
  /** Nobody knows who sent it: logged all the same, and claimed later. */
  fromNobody: z.boolean().default(false),
  lines: z.array(lineIn).min(1, 'Say what came in it.').max(40, 'Log at most 40 lines in one parcel.'),
  photoSha: sha256In('The photograph was not saved. Take it again.').optional(),
  note: wordsIn(1000, 'the note').default(''),
})
export type ParcelIn = z.input<typeof parcelIn>
export type ParcelRead = z.output<typeof parcelIn>

/** What the phone is told once a parcel is kept. */
export interface ParcelKept {
  parcelId: string
  donorName: string
  lines: { what: string; quantity: number; howCounted: HowCounted; batchCode: string | null; wasPromised: boolean }[]
  /** Tags of units that can be completed now and could not before. */
  unblocked: string[]
}
