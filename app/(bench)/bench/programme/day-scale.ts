import { HOUR, type Instant } from '#kernel/instant'
import type { DayPlan } from '#sale/programme/programme.contract'

/** Width of a drawing of the day, and what it keeps at both sides for names and figures. */
export const WIDTH = 1180
export const LEFT = 112
export const RIGHT = 22

/** Instants of the day along a drawing, the same in all that stand under each other. */
export function scaleOf(day: Pick<DayPlan, 'opensAt' | 'closesAt' | 'items'>) {
  const last = Math.max(day.closesAt, ...day.items.map(({ runsTo }) => runsTo))
  const span = last - day.opensAt
  return {
    last,
    x: (at: Instant) => LEFT + ((at - day.opensAt) / span) * (WIDTH - LEFT - RIGHT),
    timeAt: (along: number): Instant => day.opensAt + ((along - LEFT) / (WIDTH - LEFT - RIGHT)) * span,
  }
}

export function hoursOf(from: Instant, to: Instant): Instant[] {
  const first = Math.ceil(from / HOUR) * HOUR
  // Past sixteen hours the clock is written every second hour, or the figures would run together.
  const step = to - from > 16 * HOUR ? 2 * HOUR : HOUR
  return Array.from({ length: Math.floor((to - first) / step) + 1 }, (_, index) => first + index * step)
}
