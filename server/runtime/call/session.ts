import { type Instant, MINUTE } from '#kernel/instant'

/** The session that somebody calls under. Its times are those of the clock on the wall, however fast a rehearsal's runs. */
export interface Session {
  id: string
  /** When whoever it belongs to last proved who they are, by signing in or by confirming it. */
  confirmedAt: Instant
}

/** For so long what is sensitive may be done without proving it again. */
export const CONFIRMED_FOR = 10 * MINUTE

/** Whether the proof still counts. One that lies far ahead was made by a clock that was wrong, and counts for nothing. */
export const isConfirmed = (session: Session | null, wallNow: Instant): boolean =>
  session !== null && Math.abs(wallNow - session.confirmedAt) <= CONFIRMED_FOR
