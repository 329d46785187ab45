import { z } from 'zod'
import type { Instant } from '#kernel/instant'
import { idIn } from '#kernel/text'

export const endSessionIn = z.strictObject({ id: idIn('That is not one of your sessions. Reload the page.') })

/** A session as whoever it belongs to sees it. */
export interface OwnSession {
  id: string
  /** "Firefox on Linux" */
  device: string
  openedAt: Instant
  /** To within a few minutes. */
  usedAt: Instant
  /** When it ends if it is used no more. */
  endsAt: Instant
  isThis: boolean
}
