import { eq } from 'drizzle-orm'
import { person, photograph, recording } from '#db/schema/index'
import { createCaller } from '#doors/trpc/root'
import { looksAt } from '#doors/web/looking-at'
import type { House } from '#house/open/parts'
import type { Instant } from '#kernel/instant'
import type { Role } from '#kernel/role'
import { setRole } from '#people/people/people.service'
import type { Actor } from '#runtime/queue/turn'

/** What the story is told with: the house, its clock, and words for whoever waits. */
export interface Telling {
  now: Instant
  house: House
  /** Moves the clock on; what is told next happened then. */
  goTo(at: Instant): void
  say(words: string): void
}

export type Caller = ReturnType<typeof createCaller>

export interface Person extends Actor {
  /** The house's procedures with this person's rights: the story does nothing that a page could not. */
  api: Caller
}

let keys = 0
/** A key as a page would make one; the story's are numbered. */
export const nextKey = (): string => `story-${String(++keys).padStart(12, '0')}`

/** The maker gives the other roles; the first maker was made by the link that the start printed. */
const makerOf = ({ db }: House): Actor | null => {
  const found = db.select().from(person).where(eq(person.role, 'maker')).get()
  return found ? { personId: found.id, role: found.role, name: found.name, email: found.email } : null
}

/** Adds a person by role; a bidder takes a paddle. */
export async function add({ house }: Telling, role: Role, name: string, country = 'GB'): Promise<Person> {
  const email = `${name.toLowerCase().replaceAll(/[^a-z]+/g, '.')}@${role === 'bidder' ? 'elsewhere' : 'longbench'}.example`
  await house.queue.run((turn) => setRole(turn, { email, role, name }, makerOf(house)))
  const { id } = house.db.select().from(person).where(eq(person.email, email)).get() ?? { id: '' }
  const actor: Actor = { personId: id, role, name, email }
  const api = callerOf(house, actor)
  if (role === 'bidder') await api.people.takePaddle({ name, country, acceptsRules: true })
  return { ...actor, api }
}

/** Keeps a picture as an uploaded photograph is kept. */
export async function keepPhotograph({ house }: Telling, by: Person, bytes: Buffer): Promise<string> {
  const kept = await house.photographs.keep(bytes)
  await house.queue.run((turn) =>
    turn.db
      .insert(photograph)
      .values({ ...kept, at: turn.now, byPersonId: by.personId })
      .onConflictDoNothing()
      .run(),
  )
  return kept.sha
}

/** Keeps sound as an uploaded recording is kept. */
export async function keepRecording({ house }: Telling, by: Person, bytes: Buffer): Promise<string> {
  const kept = await house.recordings.keep(bytes)
  await house.queue.run((turn) =>
    turn.db
      .insert(recording)
      .values({ ...kept, at: turn.now, byPersonId: by.personId })
      .onConflictDoNothing()
      .run(),
  )
  return kept.sha
}

/** A reader who is signed in to nothing. */
export const visitor = ({ house }: Telling): Caller => callerOf(house, null)

const callerOf = (house: House, actor: Actor | null): Caller =>
  createCaller({
    actor,
    session: actor && { id: '', confirmedAt: Date.now() },
    device: () => '',
    isDemo: true,
    log: house.log,
    floods: house.floods,
    unnamedProxy: house.unnamedProxy,
    openFiles: house.openFiles,
    address: '',
    browser: () => '',
    setCookie: () => {},
    cookies: '',
    signIn: house.signIn,
    builder: house.builder,
    listReader: house.listReader,
    sheetReader: house.sheetReader,
    planner: house.planner,
    simulator: house.simulator,
    packer: house.packer,
    dataFolder: house.dataFolder,
    rehearsal: house.rehearsal,
    vitals: house.vitals,
    sight: house.sight,
    command: house.queue.run,
    lookAt: looksAt(house.sight, house.queue.run, () => ''),
  })
