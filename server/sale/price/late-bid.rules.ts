import { type Instant, MINUTE, SECOND } from '#kernel/instant'

/** When a bid is a late one, and what it adds. Fixed with a lot's terms; every sentence, page, letter and plan takes it from there. */
export interface LateBid {
  /** A bid this close to the closing is late. */
  windowMs: number
  /** One that changes the leader or the price moves the closing to this long after itself. */
  addsMs: number
}

/** Common practice: stream delay 30, thinking 30, network 30, margin. */
export const LATE_WINDOW = 120 * SECOND

/** The rule of a sale that sets none, and of every lot that was opened before its terms said one. */
export const USUAL_LATE_BID: LateBid = { windowMs: LATE_WINDOW, addsMs: LATE_WINDOW }

/** The rule of a lot by its own terms. */
export const lateBidOf = ({ lateBid }: { lateBid?: LateBid | undefined }): LateBid => lateBid ?? USUAL_LATE_BID

/** Where a bid that changed the leader or the price puts the closing: later or as it was, never earlier. */
export const afterLateBid = (closesAt: Instant, bidAt: Instant, rule = USUAL_LATE_BID): Instant =>
  isLate(closesAt, bidAt, rule) ? Math.max(closesAt, bidAt + rule.addsMs) : closesAt

/** Whether a bid at this instant, or a silence that lasted up to it, comes so late that it can move the closing. */
export const isLate = (closesAt: Instant, now: Instant, { windowMs }: Pick<LateBid, 'windowMs'> = USUAL_LATE_BID): boolean =>
  closesAt - now < windowMs

const NUMBERS = ['two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten']

/** "two minutes", for "in the last two minutes" and "two minutes after it"; under that, and between whole ones, in seconds. */
export function lateWindowWords(lengthMs = LATE_WINDOW): string {
  const minutes = lengthMs / MINUTE
  return Number.isInteger(minutes) && minutes >= 2
    ? `${NUMBERS[minutes - 2] ?? minutes} minutes`
    : `${Math.round(lengthMs / SECOND)} seconds`
}

/** The rule as it is put to whoever is going to bid. */
export const lateBidRule = ({ windowMs, addsMs } = USUAL_LATE_BID): string =>
  `A bid in the last ${lateWindowWords(windowMs)} moves the closing to ${lateWindowWords(addsMs)} after it.`

/** Why a closing moved, as a lot's history and the news of the day say it. */
export const lateBidReason = ({ windowMs }: Pick<LateBid, 'windowMs'> = USUAL_LATE_BID): string =>
  `A bid came in the last ${lateWindowWords(windowMs)}.`
