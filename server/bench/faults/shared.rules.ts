import { isPass, type Verdict } from '../units/verdict.rules'

export interface RunReadingFacts {
  tag: string
  seq: number
  check: string
  verdict: Verdict
  correction: string | null
}

/** Per check the units on which it ever failed. A failure that was mistyped, and put right, is none. */
export function failuresOf(readings: readonly RunReadingFacts[]): Map<string, string[]> {
  const failed = new Map<string, Set<string>>()
  for (const [index, reading] of readings.entries()) {
    if (isPass(reading.verdict)) continue
    const next = readings.slice(index + 1).find((one) => one.tag === reading.tag && one.check === reading.check)
    if (next?.correction != null) continue
    failed.set(reading.check, (failed.get(reading.check) ?? new Set()).add(reading.tag))
  }
  return new Map([...failed].map(([check, tags]) => [check, [...tags]]))
}

/** Checks that failed on two units or more: something common to them is worth looking for. */
export const sharedFailures = (readings: readonly RunReadingFacts[]): { check: string; tags: string[] }[] =>
  [...failuresOf(readings)].flatMap(([check, tags]) => (tags.length >= 2 ? [{ check, tags }] : []))

/** "B21 has failed on TERN-02 and TERN-03": said at the bench and on the rack. */
export function sharedWords({ check, tags }: { check: string; tags: readonly string[] }): string {
  const last = tags.at(-1)
  const rest = tags.slice(0, -1).join(', ')
  return `${check} has failed on ${rest === '' ? last : `${rest} and ${last}`}`
}
