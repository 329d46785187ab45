import { desc, max } from 'drizzle-orm'
import { alive, fact } from '#db/schema/index'
import type { Instant } from '#kernel/instant'
import { SHORT_SILENCE } from '#kernel/silence'
import type { Machine } from './machine'
import type { Sight, Turn } from './turn'

/** The last second at which the house noted that it was alive; null before its first. What came before the present start is read before ticking begins. */
export const lastAlive = (sight: Sight): Instant | null => sight.db.select().from(alive).get()?.at ?? null

/** Notes that the house is alive at this instant: silence is counted from here on. */
export function noteAlive({ db, now }: Turn, machine?: Machine): void {
  const up = machine?.up() ?? { seconds: null, start: null }
  const set = { at: now, upSeconds: up.seconds, upStart: up.start }
  db.insert(alive)
    .values({ id: 1, ...set })
    .onConflictDoUpdate({ target: alive.id, set })
    .run()
}

/**
 * Since when the house has been silent: its last note that it was alive, or what it did after that, within the same second; null
 * before its first note.
 */
export function silentSince(sight: Sight): Instant | null {
  const noted = lastAlive(sight)
  if (noted === null) return null
  const done = sight.db.select({ at: fact.at }).from(fact).orderBy(desc(fact.seq)).limit(1).get()?.at
  return Math.max(noted, done ?? noted)
}

/** The last instant at which this house did anything; null for one that has done nothing yet. */
export function highestStamp(sight: Sight): Instant | null {
  const lastFact = sight.db
    .select({ at: max(fact.at) })
    .from(fact)
    .get()?.at
  const all = [lastFact, lastAlive(sight)].filter((at) => at != null)
  return all.length === 0 ? null : Math.max(...all)
}

/**
 * A silence is no longer than what went by on the machine: where the wall was set forward meanwhile, the note of the last second
 * is moved up, so that no closing is moved for time that nobody missed. Answers by how much; nought where the wall can be believed.
 */
export function believeMachine(sight: Sight, machine: Machine): number {
  const note = sight.db.select().from(alive).get()
  const { seconds, start } = machine.up()
  if (!note || note.upSeconds === null || start === null || note.upStart !== start) return 0
  const tooMuch = sight.now - note.at - (seconds - note.upSeconds) * 1000
  if (tooMuch <= SHORT_SILENCE) return 0
  sight.db
    .update(alive)
    .set({ at: note.at + tooMuch })
    .run()
  return tooMuch
}
