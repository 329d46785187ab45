import { z } from 'zod'
import type { Instant } from '#kernel/instant'
import { text } from '#kernel/text'
import { goingOnIn, resumeAllIn } from '../programme/programme.contract'
import type { ItemKind } from '../programme/programme.rules'

const itemId = text(80).min(1, 'Choose which one.')
const minutes = z
  .int('Write whole minutes.')
  .min(1, 'Write how many minutes later, one at least.')
  .max(240, 'More than four hours is a new plan: use the page for the day.')

export const changeIn = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('later'), itemId, minutes }),
  z.strictObject({ kind: z.literal('swap'), firstId: itemId, secondId: itemId }),
  z.strictObject({ kind: z.literal('all-later'), minutes }),
])

/** What a change would move, once what is chosen about the day is done. */
export const previewChangeIn = z.strictObject({ change: changeIn, chosen: goingOnIn })

export const applyChangeIn = z.strictObject({
  change: changeIn,
  reason: text(200, 'Keep it under 200 characters.').min(1, 'Say why; bidders are told.'),
  /** The shifts that were shown: when others have become due since, they are shown again first. */
  shown: z.array(z.strictObject({ id: itemId, to: z.int() })).max(200),
  /** What was chosen about the day, done in the same go. */
  chosen: resumeAllIn,
})

export interface ShownShift {
  id: string
  kind: ItemKind
  title: string
  from: Instant
  to: Instant
  isAnnounced: boolean
  /** Who bid on it, and is sent an email. */
  bidders: number
}

export interface ShownRipple {
  shifts: ShownShift[]
  /** Titles of what would stand beyond the end of the stream. */
  beyondEnd: string[]
  streamEndsAt: Instant
  /** When all of it would be over; the end of the stream where nothing stands beyond it. */
  endsAt: Instant
  /** What would be thrown far, and the guest or break that keeps its time and is in the way; null where a closing is. */
  thrown: { id: string; kind: ItemKind; title: string; past: { id: string; title: string } | null }[]
}

/** What a change by the host would move. */
export interface ShownChange extends ShownRipple {
  /** So many minutes would throw nothing; null where none would, or nothing is thrown. */
  fits: number | null
}

/** What going on after a hold would move. */
export interface ShownGoingOn extends ShownRipple {
  /** What each closing would have left, in words. */
  notice: string
}

/** What holding everything would stop, and how many people have bid on it. */
export interface ShownHold {
  lots: number
  /** Numbers of the open lots whose clocks run on, since they are sold elsewhere. */
  runOn: number[]
  bidders: number
}
