import { type Instant, MINUTE } from '#kernel/instant'
import type { Vital } from './vital'

/** What comes and goes within this is told to nobody. */
export const HELD_BACK_FOR = MINUTE

export interface News {
  /** Bad for a minute, and nobody has been told. */
  bad: readonly Vital[]
  /** Told, and not bad any more for a minute. */
  over: readonly Vital[]
}

/** What is to be told now; `told` are the keys of which somebody has been told that they are bad. */
export function newsOf(vitals: readonly Vital[], told: ReadonlySet<string>, now: Instant): News {
  const settled = vitals.filter(({ since }) => now - since >= HELD_BACK_FOR)
  return {
    bad: settled.filter(({ key, standing }) => standing === 'bad' && !told.has(key)),
    over: settled.filter(({ key, standing }) => standing !== 'bad' && told.has(key)),
  }
}
