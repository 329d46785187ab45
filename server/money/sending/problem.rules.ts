import { HOUR, type Instant, MINUTE } from '#kernel/instant'

export interface ProblemFacts {
  answerDueAt: Instant
  answeredAt: Instant | null
  endedAt: Instant | null
  lastSide: 'buyer' | 'staff'
}

export type ProblemState = 'first answer due' | 'first answer late' | 'waiting for us' | 'answer late' | 'waiting for the buyer' | 'closed'

/** The clock runs while the buyer waits for us: to the first answer, and again from each further word of theirs. */
export function problemState({ answerDueAt, answeredAt, endedAt, lastSide }: ProblemFacts, now: Instant): ProblemState {
  if (endedAt !== null) return 'closed'
  if (answeredAt === null) return now <= answerDueAt ? 'first answer due' : 'first answer late'
  if (lastSide === 'staff') return 'waiting for the buyer'
  return now <= answerDueAt ? 'waiting for us' : 'answer late'
}

/** "3 h 20 min left for the first answer", "1 h 5 min late with the next answer"; nothing while it is the buyer's turn. */
export function clockWords({ answerDueAt, answeredAt, endedAt, lastSide }: ProblemFacts, now: Instant): string {
  if (endedAt !== null || (answeredAt !== null && lastSide === 'staff')) return ''
  const which = answeredAt === null ? 'first' : 'next'
  const left = answerDueAt - now
  const shown = showSpan(Math.abs(left))
  return left >= 0 ? `${shown} left for the ${which} answer` : `${shown} late with the ${which} answer`
}

function showSpan(milliseconds: number): string {
  const hours = Math.floor(milliseconds / HOUR)
  const minutes = Math.floor((milliseconds % HOUR) / MINUTE)
  if (hours >= 48) return `${Math.floor(hours / 24)} days ${hours % 24} h`
  return hours > 0 ? `${hours} h ${minutes} min` : `${minutes} min`
}
