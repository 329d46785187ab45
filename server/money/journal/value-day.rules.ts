import { civilOf, instantsOf } from '#kernel/civil'
import type { Instant } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'

/** `2027-03-14` in the campaign's zone. */
export const today = (now: Instant, zone: string): string => civilOf(now, zone).slice(0, 10)

/** The day that was typed, or today for nothing; a day that does not exist or has not come is refused at `on`. */
export function valueDay(typed: string, now: Instant, zone: string): string {
  if (typed === '') return today(now, zone)
  if (instantsOf(`${typed}T12:00`, zone).length === 0)
    throw Refusal.at('on', `There is no day ${typed}. Write it like ${today(now, zone)}.`)
  if (typed > today(now, zone)) throw Refusal.at('on', `${typed} has not come yet. Write the day on which the money came or went.`)
  return typed
}
