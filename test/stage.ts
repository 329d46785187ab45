import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { eq } from 'drizzle-orm'
import { fact, letter, person } from '#db/schema/index'
import { createCaller } from '#doors/trpc/root'
import { looksAt } from '#doors/web/looking-at'
import { REACTIONS } from '#doors/web/reactions'
import { openHouse } from '#house/open/house'
import type { House } from '#house/open/parts'
import { HOUR, type Instant } from '#kernel/instant'
import type { Role } from '#kernel/role'
import { setRole } from '#people/people/people.service'
import type { Context } from '#runtime/call/base'
import type { Session } from '#runtime/call/session'
import type { Reaction } from '#runtime/queue/reactions'
import type { Actor, Turn } from '#runtime/queue/turn'
import { openLog } from '#runtime/settings/log'

/** Noon of an ordinary day, where a test does not care. */
export const NOON: Instant = Date.parse('2027-03-13T12:00:00Z')

export interface SettableClock {
  now(): Instant
  set(at: Instant): void
  pass(milliseconds: number): void
}

/** What a browser sends of what it was given; of two of one name the later. */
const cookiesOf = (jar: readonly string[]): string =>
  [...new Map(jar.map((cookie) => [cookie.split('=')[0], cookie.split(';')[0]])).values()].join('; ')

const folder = () => mkdtempSync(join(tmpdir(), 'tagstrip-'))

/** A whole house on a real database in a folder of its own, with a clock that a test sets; `also` comes after the house's own reactions. */
export function openStage(
  wishes: { now?: Instant; isDemo?: boolean; dir?: string; publicUrl?: string; also?: readonly Reaction[] } & Partial<
    Pick<Parameters<typeof openHouse>[0], 'machine' | 'isClockRight' | 'mayLoseLog' | 'ended' | 'log' | 'mostOpenFiles'>
  > = {},
) {
  const {
    now = NOON,
    isDemo = false,
    dir = folder(),
    publicUrl = 'https://bench.example',
    also = [],
    machine,
    isClockRight,
    mayLoseLog,
    ended,
    mostOpenFiles,
    log = openLog('silent'),
  } = wishes
  let at = now
  const clock: SettableClock = {
    now: () => at,
    set: (instant) => {
      at = instant
    },
    pass: (milliseconds) => {
      at += milliseconds
    },
  }
  const house: House = openHouse({
    dataDir: dir,
    migrationsDir: join(import.meta.dirname, '..', 'db', 'migrations'),
    publicUrl,
    isDemo,
    clock,
    log,
    reactions: [...REACTIONS, ...also],
    machine,
    isClockRight,
    mayLoseLog,
    ended,
    mostOpenFiles,
    wall: clock.now,
  })
  const command = <T>(work: (turn: Turn) => T): Promise<T> => house.queue.run(work)

  /** A person of a role, made at first asking; further ones by giving another name. */
  async function actor(role: Role, name: string = role): Promise<Actor> {
    const email = `${name.toLowerCase().replaceAll(/[^a-z]+/g, '-')}@${role}.example`
    const found = house.db.select().from(person).where(eq(person.email, email)).get()
    if (!found) await command((turn) => setRole(turn, { email, role, name }))
    const { id } = house.db.select().from(person).where(eq(person.email, email)).get() ?? { id: '' }
    return { personId: id, role, name, email }
  }

  const callerFor = (
    who: Actor | null,
    jar: string[] = [],
    address = '192.0.2.1',
    confirmedAt = Date.now(),
    session?: Session,
    browser = 'one browser',
  ) => {
    const context: Context = {
      actor: who,
      session: session ?? (who && { id: `session of ${who.personId}`, confirmedAt }),
      device: () => 'Firefox on Linux',
      isDemo,
      log: house.log,
      floods: house.floods,
      unnamedProxy: house.unnamedProxy,
      openFiles: house.openFiles,
      address,
      browser: () => browser,
      setCookie: (cookie) => jar.push(cookie),
      // As they are when they are asked for: a call may be written around the one that sets them.
      get cookies() {
        return cookiesOf(jar)
      },
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
      lookAt: looksAt(house.sight, house.queue.run, () => cookiesOf(jar)),
    }
    return createCaller(context)
  }

  return {
    house,
    db: house.db,
    clock,
    dir,
    sight: house.sight,
    command,
    actor,
    /** The procedures as a visitor signed in to nothing, or as somebody. */
    visitor: (jar?: string[], address?: string, browser?: string) => callerFor(null, jar, address, undefined, undefined, browser),
    as: async (role: Role, name?: string, confirmedAt?: Instant) => callerFor(await actor(role, name), [], '192.0.2.1', confirmedAt),
    /** Whoever has this address, as they stand now. */
    async actorAt(email: string): Promise<Actor> {
      const found = house.db.select().from(person).where(eq(person.email, email)).get()
      if (!found) throw new Error(`nobody has the address ${email}`)
      return { personId: found.id, role: found.role, name: found.name, email }
    },
    callerOf: (who: Actor) => callerFor(who),
    /** The procedures as a browser calls them that holds these cookies: who asks is looked up anew, as the door does. */
    inBrowser(jar: string[]) {
      const known = house.signIn.sessionOf(cookiesOf(jar))
      return callerFor(known?.actor ?? null, jar, '192.0.2.1', 0, known?.session)
    },
    /** Somebody whose session was opened an hour ago and who has not confirmed since that it is them. */
    unconfirmed: async (role: Role, name?: string) => callerFor(await actor(role, name), [], '192.0.2.1', Date.now() - HOUR),
    letters: () => house.db.select().from(letter).orderBy(letter.at).all(),
    facts: () => house.db.select().from(fact).orderBy(fact.seq).all(),
    close() {
      house.close()
      rmSync(dir, { recursive: true, force: true })
    },
  }
}

export type Stage = ReturnType<typeof openStage>
