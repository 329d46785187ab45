import { type Instant, MINUTE, SECOND } from '#kernel/instant'

/**
 * A bid this close to the closing that changes the leader or the price moves it to this long after itself. Common
 * practice: stream delay 30, thinking 30, network 30, margin. Every sentence, page, letter and plan takes its minutes from here.
 */
export const LATE_WINDOW = 120 * SECOND

/** Where a bid that changed the leader or the price puts the closing. */
export const afterLateBid = (closesAt: Instant, bidAt: Instant, windowMs = LATE_WINDOW): Instant => Math.max(closesAt, bidAt + windowMs)

/** Whether a bid at this instant, or a silence that lasted up to it, comes so late that it can move the closing. */
export const isLate = (closesAt: Instant, now: Instant, windowMs = LATE_WINDOW): boolean => closesAt - now < windowMs

const NUMBERS = ['two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten']

/** The window as a number and its unit; under two minutes, and between whole ones, in seconds. */
function sayWindow(windowMs: number): { count: string; unit: string } {
  const minutes = windowMs / MINUTE
  return Number.isInteger(minutes) && minutes >= 2
    ? { count: NUMBERS[minutes - 2] ?? String(minutes), unit: 'minutes' }
    : { count: String(Math.round(windowMs / SECOND)), unit: 'seconds' }
}

/** "two minutes": for "in the last two minutes" and "two minutes after it". */
export function lateWindowWords(windowMs = LATE_WINDOW): string {
  const { count, unit } = sayWindow(windowMs)
  return `${count} ${unit}`
}

/** The number alone, where its unit has just been said: "A bid in the last two minutes adds two." */
export const lateWindowCount = (windowMs = LATE_WINDOW): string => sayWindow(windowMs).count

/** The rule as it is put to whoever is going to bid. */
export const lateBidRule = (windowMs = LATE_WINDOW): string =>
  `A bid in the last ${lateWindowWords(windowMs)} moves the closing to ${lateWindowWords(windowMs)} after it.`

/** Why a closing moved, as a lot's history and the news of the day say it. */
export const lateBidReason = (windowMs = LATE_WINDOW): string => `A bid came in the last ${lateWindowWords(windowMs)}.`
