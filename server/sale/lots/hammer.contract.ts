import { z } from 'zod'
import type { Fact } from '#runtime/queue/turn'

const minor = z.int().nonnegative()

/** A sale as the hammer made it: complete in itself, so that whoever acts on it need not ask the lot. */
export const hammer = z.strictObject({
  lotId: z.string(),
  number: z.int(),
  hammerMinor: minor,
  /** Nought while it is not known; the treasurer sets it later. */
  postageMinor: minor,
  /** Null where it was sold elsewhere, to somebody whom nobody here knows. */
  winnerPersonId: z.string().nullable(),
})
export type Hammer = z.infer<typeof hammer>

export const HAMMER_FELL = 'hammer.fell'

/** Recorded once by whoever ends a lot as sold, in the same turn. It names the winner, so it stands beside what everybody may know of the end. */
export const hammerFell = (sale: Hammer): Fact => ({ kind: HAMMER_FELL, subject: `lot:${sale.number}`, body: hammer.parse(sale) })
