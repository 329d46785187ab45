import type { Instant } from '#kernel/instant'
import { SHORT_SILENCE } from '#kernel/silence'
import type { Fact, Sight, Turn } from './turn'

/** What falls due by itself, and has to be done before any command that comes after it. */
export interface DueWork {
  /** Done in front of the first command of all, and of the first after a silence: what the time before it means. */
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
  /** The house was heard: from now on a gap between two of these is a silence, such as a process that was stopped or a machine that slept. */
  hear(): void
  /** Looks at what was recorded from `from` on. */
  noteFacts(facts: readonly Fact[], from: number): void
  /** Remembers how it is now; what it gives back is called when all that was done since has been undone. */
  mark(): () => void
}

/**
 * Keeps in memory when something falls due next, so that a command before which nothing is due pays one comparison for it.
 * `passed` counts the milliseconds that go by on the machine.
 */
export function openDue(work: DueWork, passed: () => number = () => 0): Due {
  let isStarted = false
  let heardAt: number | null = null
  /** Undefined when it has to be looked up. */
  let next: Instant | null | undefined
  return {
    isDue(sight) {
      if (heardAt !== null && passed() - heardAt > SHORT_SILENCE) isStarted = false
      if (next === undefined) next = work.nextAt(sight)
      return !isStarted || (next !== null && next <= sight.now)
    },
    run(turn) {
      if (!isStarted) work.start(turn)
      work.run(turn)
      isStarted = true
      next = undefined
      if (heardAt !== null) heardAt = passed()
    },
    hear() {
      heardAt = passed()
    },
    noteFacts(facts, from) {
      for (let index = from; index < facts.length; index++) {
        const fact = facts[index]
        if (fact && work.bringsForward(fact)) next = undefined
      }
    },
    mark() {
      const wasStarted = isStarted
      const wasHeardAt = heardAt
      return () => {
        isStarted = wasStarted
        heardAt = wasHeardAt
        next = undefined
      }
    },
  }
}
