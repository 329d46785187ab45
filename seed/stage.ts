import { eq } from 'drizzle-orm'
import { person } from '../db/schema'
import type { House } from '../server/house'
import type { Instant } from '../server/kernel/instant'
import type { Role } from '../server/people/people.contract'
import { setRole, takePaddle } from '../server/people/people.service'
import type { Actor, Turn } from '../server/runtime/turn'

/** What the story is told with: the house, its clock, and words for whoever waits. */
export interface Telling {
  now: Instant
  house: House
  /** Moves the clock on; what is told next happened then. */
  goTo(at: Instant): void
  say(words: string): void
}

export const tell = <T>(telling: Telling, work: (turn: Turn) => T): Promise<T> => telling.house.queue.run(work)

/** Adds a person by role, and for a bidder takes a paddle. */
export async function add(telling: Telling, role: Role, name: string, country = 'GB'): Promise<Actor> {
  const email = `${name.toLowerCase().replaceAll(/[^a-z]+/g, '.')}@${role === 'bidder' ? 'elsewhere' : 'longbench'}.example`
  await tell(telling, (turn) => setRole(turn, { email, role, name }))
  const { id } = telling.house.db.select().from(person).where(eq(person.email, email)).get() ?? { id: '' }
  const actor: Actor = { personId: id, role, name, email }
  if (role === 'bidder') await tell(telling, (turn) => takePaddle(turn, actor, { name, country, acceptsRules: true }))
  return actor
}
