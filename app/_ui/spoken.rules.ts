import { type Instant, MINUTE, SECOND } from '#kernel/instant'

/** What a live region holds. */
export interface Spoken {
  /** What the region holds now; empty once it is no longer so or has stood for a minute, so that nothing old is found there. */
  words: string
  /** What was said last, or stood on the page when it came. */
  known: string
  at: Instant | null
}

/** Whoever listens is not to be talked over by every bid. */
const AT_MOST_EVERY = 10 * SECOND
const STAYS = MINUTE

/** What the region holds from now on, and in how many milliseconds to look again; null when nothing is left to do. */
export function nextSpoken(spoken: Spoken, wanted: string, now: Instant): { spoken: Spoken; again: number | null } {
  const since = spoken.at === null ? Number.POSITIVE_INFINITY : now - spoken.at
  if (wanted !== spoken.known) {
    // What is no longer so is taken out at once; what is so instead is said when its time comes.
    if (since < AT_MOST_EVERY) return { spoken: spoken.words === '' ? spoken : { ...spoken, words: '' }, again: AT_MOST_EVERY - since }
    return { spoken: { words: wanted, known: wanted, at: now }, again: STAYS }
  }
  if (spoken.words === '') return { spoken, again: null }
  return since < STAYS ? { spoken, again: STAYS - since } : { spoken: { ...spoken, words: '' }, again: null }
}
