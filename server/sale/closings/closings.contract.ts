import { z } from 'zod'
import { text } from '#kernel/text'

const lot = z.int().min(1)
const reason = text(300, 'Use at most 300 characters here.').min(3, 'Say why in a few words; everybody can read it.')

/**
 * What the host can say of a hold with one press, each whole and true only where it is chosen; the first is there from the
 * start, since whoever is in a hurry does not type, and names no cause.
 */
export const HOLD_REASONS = ['The host has stopped the clocks.', 'The stream was lost.', 'Something on air needs a moment.'] as const

export const openIn = z.strictObject({ lot })
/** The lots that were shown as ready. */
export const openAllIn = z.strictObject({ lots: z.array(lot).min(1, 'Choose the lots.').max(500) })
export const holdIn = z.strictObject({ lot, reason })
export const resumeIn = z.strictObject({ lot })
export const holdAllIn = z.strictObject({ reason })
export const extendIn = z.strictObject({
  lot,
  minutes: z.int('Write whole minutes.').min(1, 'Give it at least one minute.').max(240, 'Give it four hours at most.'),
  reason,
})
export const withdrawIn = z.strictObject({ lot, reason })
export const elsewhereResultIn = z.strictObject({
  lot,
  hammer: text(80),
  /** Where the result can be read, or who told it. */
  source: text(300, 'Use at most 300 characters here.').min(3, 'Say where the result comes from: an address, or who told it.'),
})
