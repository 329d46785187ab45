import type { Instant } from '#kernel/instant'
import type { createCaller } from './root'

/** What pages rendered on the server reach of the house. Bundles do not share module state, so it hangs on one process-wide slot. */
export interface Slot {
  callerFor(cookies: string): Promise<ReturnType<typeof createCaller>>
  now(): Instant
  /** What keeps the house from taking anything, in words; null on a good day. */
  trouble(): string | null
  publicUrl: string
}

const NAME = Symbol.for('tagstrip.house')

export const giveSlot = (slot: Slot): void => {
  ;(globalThis as Record<symbol, unknown>)[NAME] = slot
}
