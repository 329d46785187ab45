import type { Instant } from '#kernel/instant'
import { civilIn, sayDay, sayTime } from '#kernel/wall-clock'

export type WhenShow = 'time' | 'day' | 'both'

/** To the second, for what is true for a moment only. */
export const sayClock = (at: Instant, zone: string): string =>
  `${sayTime(civilIn(at, zone))}:${String(Math.floor(at / 1000) % 60).padStart(2, '0')}`

export const sayWhen = (at: Instant, zone: string, show: WhenShow): string => {
  const civil = civilIn(at, zone)
  if (show === 'time') return sayTime(civil)
  return show === 'day' ? sayDay(civil, { withYear: true }) : `${sayDay(civil)}, ${sayTime(civil)}`
}

/** The same wall clock at that instant: then one time is enough for both. */
export const sameWall = (at: Instant, one: string, other: string): boolean => sayWhen(at, one, 'both') === sayWhen(at, other, 'both')
