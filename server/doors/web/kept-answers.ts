import { type Instant, SECOND } from '#kernel/instant'
import type { ReadyAnswer } from './ready-answer'

/** Longer ago than this, an answer is made anew even where nothing was written: the time is part of many. */
const KEPT_FOR = SECOND
const MOST_KEPT = 200
const MOST_BYTES = 32 * 1024 * 1024

export interface KeptAnswers {
  /** The answer for a key: made once for all who ask before anything in the house has changed, and for a second at most. */
  get(key: string, make: () => Promise<ReadyAnswer | null>): Promise<ReadyAnswer | null>
}

interface Kept {
  changes: number
  madeAt: Instant
  bytes: number
  answer: Promise<ReadyAnswer | null>
}

/**
 * However many ask for one thing at once, it is worked out once. `changes` counts the rows that were ever written, so
 * nobody is told what is no longer so. Only for what everybody may see.
 */
export function openKeptAnswers({ changes, now }: { changes(): number; now(): Instant }): KeptAnswers {
  const kept = new Map<string, Kept>()
  let bytes = 0
  const forget = (key: string) => {
    bytes -= kept.get(key)?.bytes ?? 0
    kept.delete(key)
  }
  return {
    get(key, make) {
      const at = { changes: changes(), madeAt: now() }
      const before = kept.get(key)
      if (before && before.changes === at.changes && Math.abs(at.madeAt - before.madeAt) < KEPT_FOR) return before.answer
      forget(key)
      const one: Kept = { ...at, bytes: 0, answer: make() }
      kept.set(key, one)
      one.answer.then(
        (ready) => {
          if (kept.get(key) !== one) return
          one.bytes = ready?.size ?? 0
          bytes += one.bytes
          for (const oldest of kept.keys()) {
            if (kept.size <= MOST_KEPT && bytes <= MOST_BYTES) break
            forget(oldest)
          }
        },
        // One that failed is not kept: the next to ask tries again.
        () => kept.get(key) === one && forget(key),
      )
      return one.answer
    },
  }
}
