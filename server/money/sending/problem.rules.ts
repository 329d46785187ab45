import { HOUR, type Instant, MINUTE } from '#kernel/instant'

export interface ProblemFacts {
  answerDueAt: Instant
  answeredAt: Instant | null
  endedAt: Instant | null
  lastSide: 'buyer' | 'staff'
}

export type ProblemState = 'first answer due' | 'first answer late' | 'waiting for us' | 'waiting for the buyer' | 'closed'

/** The clock runs to the first answer only; after that it is said who is to speak next. */
export function problemState({ answerDueAt, answeredAt, endedAt, lastSide }: ProblemFacts, now: Instant): ProblemState {
  if (endedAt !== null) return 'closed'
  if (answeredAt === null) return now <= answerDueAt ? 'first answer due' : 'first answer late'
  return lastSide === 'buyer' ? 'waiting for us' : 'waiting for the buyer'
}

/** "3 h 20 min left for the first answer", "1 h 5 min late with the first answer"; nothing once it was given. */
export function clockWords({ answerDueAt, answeredAt, endedAt }: ProblemFacts, now: Instant): string {
  if (answeredAt !== null || endedAt !== null) return ''
  const left = answerDueAt - now
  const shown = showSpan(Math.abs(left))
  return left >= 0 ? `${shown} left for the first answer` : `${shown} late with the first answer`
}

function showSpan(milliseconds: number): string {
  const hours = Math.floor(milliseconds / HOUR)
  const minutes = Math.floor((milliseconds % HOUR) / MINUTE)
  if (hours >= 48) return `${Math.floor(hours / 24)} days ${hours % 24} h`
  return hours > 0 ? `${hours} h ${minutes} min` : `${minutes} min`
}
