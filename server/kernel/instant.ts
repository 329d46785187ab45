/** An instant: whole milliseconds since 1970-01-01T00:00:00Z. Rules take it as an argument and never ask for it. */
export type Instant = number

export const SECOND = 1000
export const MINUTE = 60 * SECOND
export const HOUR = 60 * MINUTE
export const DAY = 24 * HOUR

/** ISO 8601 in UTC with milliseconds, the one form in which instants leave the house. */
export const toIso = (at: Instant): string => new Date(at).toISOString()

/** The earliest of those that there are; null where there is none. */
export function earliest(instants: readonly (Instant | null)[]): Instant | null {
  const known = instants.filter((at) => at !== null)
  return known.length > 0 ? Math.min(...known) : null
}
