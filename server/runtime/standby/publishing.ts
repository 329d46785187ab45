import { randomUUID } from 'node:crypto'
import type Database from 'better-sqlite3'
import { Refusal } from '#kernel/refusal'
import type { Outgoing } from '../queue/queue'
import type { Sealing } from '../queue/sealing'
import type { Log } from '../settings/log'
import { noteChangedRows } from './changed-rows'
import type { Follower } from './lease'
import type { Machines } from './machines'
import { openingPart, type Part, partsOf } from './message'
import { Conflict, openPlace, standsIn, versionOf } from './place'
import { openSender } from './sender'

/** What this house does so that another machine can go on without it. */
export interface Publishing extends Outgoing {
  /** Becomes the machine that writes, or says in words why it may not. Nothing is taken before. */
  begin(): Promise<void>
  /** Why nothing is taken, or that nobody else holds what is new; null on a good day. */
  trouble(): string | null
  /** No other machine holds what is new: a maker said that none will take over. */
  isAlone(): boolean
  /**
   * How many servers hold what is new, up to which message they have confirmed it, how many groups wait for that, and who follows;
   * null where that could not be asked.
   */
  howFar(): { servers: number | null; confirmed: number; waiting: number; followers: readonly Follower[] | null }
  close(): Promise<void>
}

export interface PublishingParts {
  handle: Database.Database
  keys: Sealing
  log: Log
  /** What reaches the others; asked again and again while the house is alone. */
  machines(): Promise<Machines>
  /** The house goes on though it reaches no other machine: a maker said that none will take over. */
  isAlone: boolean
  /** An older copy was put back on purpose: what the stream holds is deleted, and begins with the house as it is now. */
  beginsAnew: boolean
  /** Something to say has changed. */
  said(): void
  /** Another machine has written since: this one takes nothing any more. */
  ended(words: string): void
}

/** How long somebody waits for what they asked. */
const PATIENCE_MS = 5_000
const RENEW_MS = 1_000
const ASK_WHO_FOLLOWS_MS = 2_000
const GOODBYE_MS = 1_000
/** So many groups may be under way; more wait, and go together. */
const MOST_UNDER_WAY = 32

const UNCONFIRMED =
  'This was noted here, and the servers that hold what is new have not confirmed it yet. Look again in a minute, or send the same form once more: it counts once.'
const NOT_TAKEN =
  'The servers that hold what is new are not reached, so nothing was stored. What you wrote is still here; try again in a minute.'
const TROUBLE =
  'The servers that hold what is new besides this house are not reached: no bid, reading or payment is taken until they are. If the last minutes before a closing are lost, it moves.'
const ALONE = 'No other machine is reached, and none holds what is new: this house goes on alone, as it was told to.'

/** Keeps what each group changed, sends it, and lets answers go out when the stream has it. */
export function openPublishing(parts: PublishingParts): Publishing {
  const { handle, keys, log, said, ended } = parts
  noteChangedRows(handle)
  const place = openPlace(handle)
  const migration = versionOf(handle)
  const rows = handle.prepare('SELECT body FROM changed_row ORDER BY n').pluck()
  const forget = handle.prepare('DELETE FROM changed_row')
  let machines: Machines | null = null
  let mostBytes = 900_000
  let isAlone = parts.isAlone || place.read()?.aloneSince != null
  let isBegun = false
  let hasEnded: Refusal | null = null
  let staged: Part[] = []
  let timer: NodeJS.Timeout | null = null
  let asking: NodeJS.Timeout | null = null
  let isRenewing = false
  let followers: readonly Follower[] | null = null
  let whenRoom: (() => void)[] = []

  /** Only a note for the next start: whatever keeps it from being written, this house ends. */
  const noteOvertaken = () => {
    try {
      place.overtaken(Date.now())
    } catch (reason) {
      log.error({ err: reason }, 'that another machine writes could not be noted')
    }
  }
  const end = (words: string) => {
    if (hasEnded) return
    hasEnded = new Refusal('unconfirmed', words)
    noteOvertaken()
    sender.stop(hasEnded)
    log.fatal({ words }, 'another machine writes for this house: this one takes nothing any more')
    said()
    ended(words)
  }
  const sender = openSender({
    stream: () => machines?.stream ?? null,
    patienceMs: PATIENCE_MS,
    unconfirmed: () => new Refusal('unconfirmed', UNCONFIRMED),
    said() {
      if (sender.isStuck()) log.error('NATS is not reached: nothing is taken until it is')
      else log.info('NATS is reached again: what waited is confirmed, and everything is taken again')
      said()
    },
    conflict: end,
    moved() {
      const waiting = whenRoom
      whenRoom = []
      for (const go of waiting) go()
    },
  })

  const connected = (reached: Machines, number: number) => {
    sender.begin(number)
    mostBytes = reached.stream.mostBytes
    machines = reached
    reached.giveAway()
    timer ??= setInterval(renew, RENEW_MS)
    timer.unref()
    asking ??= setInterval(askWhoFollows, ASK_WHO_FOLLOWS_MS)
    asking.unref()
  }

  const takeLease = async ({ waitForLease, self }: Machines) => {
    const holder = await waitForLease()
    if (holder.id !== self.id) throw new Conflict(holderWords(holder))
  }

  /** Stands in the stream after all that this house has sent: from here on whoever wrote before is refused. */
  const open = async (reached: Machines) => {
    const { self } = reached
    await takeLease(reached)
    if (parts.beginsAnew) reached.stream = await reached.stream.anew()
    const { stream } = reached
    for (const part of await place.compare(stream)) await standsIn(stream, part)
    const number = (place.read()?.number ?? 0) + 1
    const part = openingPart(keys, number, randomUUID(), { migration, at: Date.now(), who: self.name })
    await standsIn(stream, part)
    place.move(stream.made, number, part.messageId)
    place.overtaken(null)
    connected(reached, number)
    if (stream.replicas === 1) log.warn('what is done here is held by one server of NATS besides: with three, any one of them may be lost')
    else log.info({ servers: stream.replicas }, 'what is done here is held by other machines before it is answered')
  }

  /** The same while commands are taken: what this house did alone is sent until nothing is missing. */
  const rejoin = async (reached: Machines) => {
    await takeLease(reached)
    let last = -1
    while (place.read()?.number !== last) {
      for (const part of await place.compare(reached.stream)) await standsIn(reached.stream, part)
      last = (await reached.stream.state()).last
    }
    place.alone(null)
    isAlone = false
    connected(reached, last)
  }

  /** Whoever may not go on keeps nobody else from it. */
  const orLeave = async (reached: Machines, work: (reached: Machines) => Promise<void>) => {
    try {
      await work(reached)
    } catch (reason) {
      await reached.lease.release().catch(() => {})
      await reached.close()
      throw reason
    }
  }

  const renew = async () => {
    if (isRenewing || hasEnded || !machines) return
    isRenewing = true
    try {
      const holder = await machines.lease.take()
      if (holder.id !== machines.self.id) end(holderWords(holder))
    } catch (reason) {
      log.debug({ err: reason }, 'the lease could not be renewed')
    } finally {
      isRenewing = false
    }
  }

  const askWhoFollows = async () => {
    if (hasEnded || !machines) return
    try {
      followers = await machines.lease.followers()
    } catch {
      followers = null
    }
  }

  /** While it is alone it looks for the others, and publishes what they miss as soon as nobody else has written. */
  const lookForOthers = async () => {
    while (isAlone && !hasEnded) {
      try {
        await orLeave(await parts.machines(), rejoin)
        log.info('the other machines are reached again, and hold all that was written here meanwhile')
        said()
        return
      } catch (reason) {
        if (reason instanceof Conflict) {
          end(reason.message)
          return
        }
        await new Promise((resolve) => setTimeout(resolve, 1_000).unref())
      }
    }
  }

  return {
    async begin() {
      const reached = await parts.machines().catch((reason) => {
        if (!isAlone) throw reason
        return null
      })
      if (reached) {
        await orLeave(reached, open).catch((reason) => {
          if (reason instanceof Conflict) noteOvertaken()
          throw reason
        })
        place.alone(null)
        isAlone = false
      } else {
        // Since when it was alone first is what counts.
        if (place.read()?.aloneSince == null) place.alone(Date.now())
        log.warn(ALONE)
        void lookForOthers()
      }
      isBegun = true
    },
    refusal() {
      if (hasEnded) return hasEnded
      if (isAlone) return null
      if (!isBegun) return new Refusal('unconfirmed', NOT_TAKEN)
      return sender.isStuck() ? new Refusal('unconfirmed', NOT_TAKEN) : null
    },
    hasRoom: () => isAlone || sender.underWay() < MOST_UNDER_WAY,
    whenRoom: (go) => void whenRoom.push(go),
    keep() {
      staged = []
      const changed = rows.all() as string[]
      if (changed.length === 0) return
      forget.run()
      const known = place.read()
      if (!known && !isAlone) throw new Error('the place in the stream is not known')
      const json = `{"kind":"group","migration":${JSON.stringify(migration)},"at":${Date.now()},"rows":[${changed.join(',')}]}`
      staged = partsOf(keys, json, (known?.number ?? 0) + 1, randomUUID(), mostBytes)
      place.keep(staged, sender.confirmed())
    },
    send(waiting) {
      const sent = staged
      staged = []
      if (isAlone) waiting.held()
      else sender.send(sent, waiting)
    },
    trouble() {
      if (hasEnded) return hasEnded.message
      if (isAlone) return null
      return sender.isStuck() ? TROUBLE : null
    },
    isAlone: () => isAlone,
    howFar: () => ({ servers: machines?.stream.replicas ?? null, confirmed: sender.confirmed(), waiting: sender.underWay(), followers }),
    async close() {
      if (timer) clearInterval(timer)
      if (asking) clearInterval(asking)
      if (!machines) return
      await sender.settled(GOODBYE_MS)
      if (machines.nats.trouble() === null) await machines.lease.release().catch(() => {})
      await machines.close()
    },
  }
}

const holderWords = ({ name, address, since }: { name: string; address: string; since: string }): string =>
  `Another machine writes for this house: ${name}, at ${address}, since ${since}. Start this one with npm run standby, on a fresh copy.`
