import type { Instant } from '#kernel/instant'

/** What decides whether the clock of a lot stops with all. */
interface Clock {
  soldWhere: 'here' | 'elsewhere'
  state: string
  closesAt: Instant | null
}

const STILL_TO_CLOSE = ['draft', 'ready', 'open', 'held']

/**
 * Whether a hold of all clocks that began at `since` stops this one: that of a lot which is sold here and was still to close.
 * A lot that is sold elsewhere closes there, and no hold here stops that clock.
 */
export const stopsWithAll = ({ soldWhere, state, closesAt }: Clock, since: Instant): boolean =>
  soldWhere === 'here' && STILL_TO_CLOSE.includes(state) && (closesAt ?? 0) > since
