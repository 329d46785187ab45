import type { Instant } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import type { Session } from '#runtime/call/session'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { endOfSession } from './session-life.rules'
import type { OwnSession } from './sessions.contract'
import * as store from './sessions.store'

// Sessions live by the clock on the wall, which `wallNow` is, and not by that of the day.

/** Where somebody is signed in, what was used last first. */
export const listSessions = (sight: Sight, { personId, role }: Actor, mine: Session, wallNow: Instant): OwnSession[] =>
  store
    .listSessionRows(sight.db, personId)
    .map(({ id, userAgent, createdAt, updatedAt }) => {
      const [openedAt, usedAt] = [createdAt.getTime(), updatedAt.getTime()]
      const endsAt = endOfSession(role, { createdAt: openedAt, usedAt })
      return { id, device: userAgent || 'An unknown browser', openedAt, usedAt, endsAt, isThis: id === mine.id }
    })
    .filter(({ endsAt }) => endsAt > wallNow)

/** Ends one of somebody's own sessions; what is open under it ends with it. */
export function endSession(turn: Turn, { personId }: Actor, id: string): void {
  if (store.deleteSession(turn.db, personId, id) === 0) throw new Refusal('not-found', 'That session has already ended.')
}

/** Ends all of somebody's sessions but the one that asks for it. Answers how many there were. */
export const endOtherSessions = (turn: Turn, { personId }: Actor, mine: Session): number =>
  store.deleteSessionsBut(turn.db, personId, mine.id)

/** From now on, and for as long as a proof counts, this session may do what is sensitive. */
export const noteConfirmed = (turn: Turn, mine: Session, wallNow: Instant): void =>
  store.updateSession(turn.db, mine.id, { confirmedAt: new Date(wallNow) })
