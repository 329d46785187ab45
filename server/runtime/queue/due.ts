import type { Instant } from '#kernel/instant'
import type { Fact, Sight, Turn } from './turn'

/** What falls due by itself, and has to be done before any command that comes after it. */
export interface DueWork {
  /** Done once, in front of the first command of all: what the time before this start means. */
  start(turn: Turn): void
  /** When something falls due next, by what the database holds; null when nothing will. */
  nextAt(sight: Sight): Instant | null
  /** Does everything that is due at the turn's instant. */
  run(turn: Turn): void
  /** Whether a fact can bring the next instant forward. One that only puts it off need not be told: it is then looked at too early, once. */
  bringsForward(fact: Fact): boolean
}

export interface Due {
  isDue(sight: Sight): boolean
  run(turn: Turn): void
  /** Looks at what was recorded from `from` on. */
  noteFacts(facts: readonly Fact[], from: number): void
  /** Remembers how it is now; what it gives back is called when all that was done since has been undone. */
  mark(): () => void
}

/** Keeps in memory when something falls due next, so that a command before which nothing is due pays one comparison for it. */
export function openDue(work: DueWork): Due {
  let isStarted = false
  /** Undefined when it has to be looked up. */
  let next: Instant | null | undefined
  return {
    isDue(sight) {
      if (next === undefined) next = work.nextAt(sight)
      return !isStarted || (next !== null && next <= sight.now)
    },
    run(turn) {
      if (!isStarted) work.start(turn)
      work.run(turn)
      isStarted = true
      next = undefined
    },
    noteFacts(facts, from) {
      for (let index = from; index < facts.length; index++) {
        const fact = facts[index]
        if (fact && work.bringsForward(fact)) next = undefined
      }
    },
    mark() {
      const wasStarted = isStarted
      return () => {
        isStarted = wasStarted
        next = undefined
      }
    },
  }
}
