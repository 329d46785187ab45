import { DAY, HOUR, type Instant, MINUTE } from '#kernel/instant'
import { isStaff, type Role } from '#kernel/role'

/** A cookie is kept for as long as a session may last at most. */
export const LONGEST = 30 * DAY

const STAFF_UNUSED = 12 * HOUR
const STAFF_IN_ALL = 7 * DAY

/** How far behind the time of last use may be: it is written down no more often than this. */
export const USE_IS_NOTED_AFTER = 5 * MINUTE

/**
 * When a session ends that is used no more. Whoever bids is asked for a code no more than once a month; what the staff can
 * reach is worth more, so theirs end after twelve hours unused and after a week in all.
 */
export const endOfSession = (role: Role, { createdAt, usedAt }: { createdAt: Instant; usedAt: Instant }): Instant =>
  isStaff(role) ? Math.min(usedAt + STAFF_UNUSED, createdAt + STAFF_IN_ALL) : usedAt + LONGEST

/** The same in words, for the page that lists sessions. */
export const sayEndOfSession = (role: Role): string =>
  isStaff(role)
    ? `Staff can reach more than bidders can, so your session ends after ${STAFF_UNUSED / HOUR} hours without use, and after ${STAFF_IN_ALL / DAY} days in any case.`
    : `A session ends after ${LONGEST / DAY} days without use, or when you end it.`
