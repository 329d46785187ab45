import { type Instant, SECOND } from './instant'

/** How much of something is taken before the rest is turned away: so many at once, so many a second after that. */
export interface Rate {
  burst: number
  aSecond: number
}

export interface Allowance {
  /** True when there is room for one more under this key, which is then used up; costs a look-up and no more. */
  take(key: string, now: Instant): boolean
}

const SWEEP_AT = 10_000

/** A bucket for each key that fills again with time. Kept in memory: after a start everybody begins afresh. */
export function openAllowance({ burst, aSecond }: Rate): Allowance {
  const buckets = new Map<string, { left: number; at: Instant }>()
  const leftAt = (bucket: { left: number; at: Instant }, now: Instant): number =>
    Math.min(burst, bucket.left + (Math.max(0, now - bucket.at) / SECOND) * aSecond)
  const forgetTheFull = (now: Instant) => {
    for (const [key, bucket] of buckets) if (leftAt(bucket, now) >= burst) buckets.delete(key)
  }
  return {
    take(key, now) {
      const bucket = buckets.get(key)
      const left = bucket ? leftAt(bucket, now) : burst
      if (left < 1) return false
      if (!bucket && buckets.size >= SWEEP_AT) forgetTheFull(now)
      buckets.set(key, { left: left - 1, at: Math.max(now, bucket?.at ?? now) })
      return true
    },
  }
}

/** The house's own machine, or a proxy in front that the settings do not name: no visitor's address, so no limit by it. */
export const isOwnMachine = (address: string): boolean => address === '' || address === '::1' || /^(::ffff:)?127\./.test(address)
