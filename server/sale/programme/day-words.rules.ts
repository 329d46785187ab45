import { type Instant, MINUTE } from '#kernel/instant'
import { isShortHold, ROOM_AFTER_HOLD, SHORT_HOLD } from '../price/closing.rules'
import type { ProgrammeItem } from './programme.contract'

/** How many of these are closings. */
export const closingsIn = (items: readonly Pick<ProgrammeItem, 'kind'>[]): number => items.filter(({ kind }) => kind === 'closing').length

/** "12 closings". */
export function sayClosings(count: number): string {
  return count === 0 ? 'no closings yet' : count === 1 ? 'one closing' : `${count} closings`
}

/** "held for 4 min", in whole minutes, since that is what the day loses. */
export function sayHeld(milliseconds: number): string {
  const minutes = Math.floor(milliseconds / 60_000)
  return minutes === 0 ? 'held just now' : `held for ${minutes} min`
}

/** "Lot 4 is sold elsewhere, and its clock runs on." for the lots that a hold of all clocks does not stop, or nothing. */
export function sayRunsOn(lots: readonly number[]): string {
  const last = lots.at(-1)
  if (last === undefined) return ''
  if (lots.length === 1) return `Lot ${last} is sold elsewhere, and its clock runs on.`
  return `Lots ${lots.slice(0, -1).join(', ')} and ${last} are sold elsewhere, and their clocks run on.`
}

const [NOTICE, SHORT] = [ROOM_AFTER_HOLD / MINUTE, SHORT_HOLD / MINUTE]

/** Before a hold of all clocks: what becomes of a closing when they go on. */
export const sayNoticeAfterHold = `A closing with less than ${NOTICE} minutes left then goes on with ${NOTICE}, or, if the clocks stood for less than ${SHORT}, with what was left.`

/** What each closing has left if the clocks that stand since `since` go on now. */
export const sayNoticeNow = (since: Instant, now: Instant): string =>
  isShortHold(since, now)
    ? `The clocks have stood for less than ${SHORT} minutes: a closing with less than ${NOTICE} minutes left goes on with what was left.`
    : `No closing is left with less than ${NOTICE} minutes.`

/** "running 3 min over", "running on time": from half a minute on, rounded to the minute. */
export function sayOverTime(milliseconds: number): string {
  const minutes = Math.round(milliseconds / 60_000)
  if (minutes === 0) return 'running on time'
  return minutes > 0 ? `running ${minutes} min over` : `running ${-minutes} min under`
}

/** "Held since 20:26." and, of the lots that a hold of all clocks does not stop, "Lot 4 runs on.": for across a room. */
export function sayHeldBriefly(since: string, runOn: readonly number[]): string {
  const lots = runOn.length === 0 ? '' : runOn.length === 1 ? ` Lot ${runOn[0]} runs on.` : ` ${runOn.length} lots run on.`
  return `Held since ${since}.${lots}`
}
