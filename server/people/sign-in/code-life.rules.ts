import { type Instant, MINUTE } from '#kernel/instant'

export const CODE_MINUTES = 10

/** Codes asked for before this moment are good for nothing any more. */
export const codesGoodSince = (now: Instant): Instant => now - CODE_MINUTES * MINUTE
