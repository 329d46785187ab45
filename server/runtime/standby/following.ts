import { existsSync, readdirSync } from 'node:fs'
import Database from 'better-sqlite3'
import type { Sealing } from '../queue/sealing'
import type { Log } from '../settings/log'
import { type ChangedRow, openRowChanger } from './changed-rows'
import { type Message, openReader, type Part } from './message'
import { Conflict, inShort, openPlace, versionOf } from './place'
import type { Stream } from './stream'

/** A copy of the house that is kept as new as what the writer has confirmed. */
export interface Following {
  /** When what it knows was done, by the writer's clock; null until a message came. */
  newestAt(): number | null
  /** Up to which message of the stream it is. */
  number(): number
  /** Resolves when it is as new as the stream; rejects with what keeps it from following. */
  caughtUp(mostMs: number): Promise<void>
  /** Rejects when it cannot follow any more, with the reason in words; never resolves. */
  broken: Promise<never>
  /**
   * Ends here, to go on as the house itself. A message of which not all parts came was never answered, and does not count: this copy
   * stands after it.
   */
  takeOver(): Promise<void>
  stop(): Promise<void>
}

export interface FollowingParts {
  file: string
  migrationsDir: string
  keys: Sealing
  stream: Stream
  log: Log
  /** Looks at what a group changed, within its transaction; throws when it is not what the writer says it is. */
  check(handle: Database.Database): (rows: readonly ChangedRow[]) => void
}

const FRESH =
  'Take a fresh copy of the house (npm run backup on the machine that writes), put it in place here, and start npm run standby again.'
/** Messages that have come already are written together. */
const MOST_TOGETHER = 200

/** Opens the database of a copy, finds its place in the stream, and makes every change that is told from there on. */
export async function followStream({ file, migrationsDir, keys, stream, log, check }: FollowingParts): Promise<Following> {
  if (!existsSync(file)) throw new Error(`There is no copy of the house at ${file}. ${FRESH}`)
  const handle = new Database(file)
  handle.pragma('journal_mode = wal')
  handle.pragma('synchronous = 1')
  // The rows of the writer kept these rules; here they may come in another order within one transaction.
  handle.pragma('foreign_keys = 0')
  const newest = versionHere(handle, migrationsDir)
  const place = openPlace(handle)
  const read = openReader(keys)
  let number = await startingPoint(handle, stream)
  let newestAt: number | null = null
  let lastId = ''
  const waiting: Part[] = []
  let isWriting = false
  let isStopped = false
  let fail: (reason: unknown) => void = () => {}
  const broken = new Promise<never>((_, reject) => {
    fail = reject
  })
  // Whoever waits for it hears of it; nobody else need.
  broken.catch(() => {})
  const change = openRowChanger(handle)
  const look = check(handle)

  const take = (part: Part): Message | null => {
    if (part.number <= number) return null
    if (part.number !== number + 1)
      throw new Conflict(`Message ${number + 1} of the stream is gone, and this copy has not had it. ${FRESH}`)
    const message = opened(part)
    number = part.number
    lastId = part.messageId
    return message
  }
  const opened = (part: Part) => {
    try {
      return read(part)
    } catch (cause) {
      throw new Conflict(
        `Message ${part.number} of the stream does not open with the keys of this copy: it is of another house, or was altered. ${FRESH}`,
        { cause },
      )
    }
  }
  const apply = (message: Message) => {
    if (message.migration !== newest)
      throw new Conflict(
        `The house that writes is of another version (its database has taken ${message.migration}, this program's ${newest}). Install the same version here. ${FRESH}`,
      )
    newestAt = message.at
    if (message.kind === 'opened') return
    for (const row of message.rows) change(row)
    look(message.rows)
  }
  const write = () => {
    isWriting = false
    if (isStopped) return
    const now = waiting.splice(0, MOST_TOGETHER)
    const before = number
    try {
      handle
        .transaction(() => {
          for (const part of now) {
            const message = take(part)
            if (message) apply(message)
            // A part alone changes nothing: the place moves on with the last.
            if (message) place.move(stream.made, part.number, part.messageId)
          }
        })
        .immediate()
    } catch (reason) {
      number = before
      isStopped = true
      fail(reason)
      return
    }
    if (waiting.length > 0) writeSoon()
  }
  const writeSoon = () => {
    if (isWriting) return
    isWriting = true
    setImmediate(write)
  }
  const follow = await stream.follow(number + 1, (part) => {
    waiting.push(part)
    writeSoon()
  })
  const stop = async () => {
    if (isStopped && !handle.open) return
    isStopped = true
    handle.close()
    await follow.stop().catch(() => {})
  }
  log.info({ number }, 'this machine follows the one that writes')

  return {
    newestAt: () => newestAt,
    number: () => number,
    broken,
    async caughtUp(mostMs) {
      const until = performance.now() + mostMs
      const { last } = await stream.state()
      while (number < last) {
        if (performance.now() > until)
          throw new Error(
            `Not all that was confirmed has been heard: this copy is at message ${number}, and the stream at ${last}. It is tried again; see that the servers of NATS run and are reached.`,
          )
        await Promise.race([broken, new Promise((resolve) => setTimeout(resolve, 20))])
      }
    },
    async takeOver() {
      if (lastId !== '') place.move(stream.made, number, lastId)
      await stop()
    },
    stop,
  }
}

/** Where to go on from; throws in words where this copy cannot. */
async function startingPoint(handle: Database.Database, stream: Stream): Promise<number> {
  const place = openPlace(handle)
  const known = place.read()
  if (!known || known.stream === '')
    throw new Conflict(`This copy was made before the house had NATS_URL set, so nothing tells where it stands. ${FRESH}`)
  if (known.stream !== stream.made)
    throw new Conflict(`This copy belongs to a stream that is gone: the one on NATS was made later. ${FRESH}`)
  const { first, last } = await reaching(stream, known.number)
  if (known.number + 1 < first)
    throw new Conflict(
      `This copy is too old: it ends at message ${known.number}, and the stream begins at ${first}. It is kept for as long as STANDBY_HOURS and STANDBY_MB say. ${FRESH}`,
    )
  if (known.number > last) {
    const missing = await place.compare(stream)
    throw new Conflict(
      `This copy holds ${missing.length === 1 ? 'a message' : `${missing.length} messages`} that nobody confirmed. Start it as the house itself (npm start) if no other machine writes; otherwise: ${FRESH}`,
    )
  }
  const stands = known.number === 0 ? null : await stream.read(known.number)
  if (stands && stands.messageId !== known.messageId)
    throw new Conflict(`This copy holds something that was never confirmed, and another machine has written in its place. ${FRESH}`)
  handle.exec('DELETE FROM unconfirmed_message; DELETE FROM changed_row')
  return known.number
}

/** A copy that was made of an open house may be a few messages ahead of what was confirmed at that moment. */
async function reaching(stream: Stream, number: number): Promise<{ first: number; last: number }> {
  for (let tries = 0; ; tries++) {
    const state = await stream.state()
    if (state.last >= number || tries >= 25) return state
    await new Promise((resolve) => setTimeout(resolve, 200))
  }
}

function versionHere(handle: Database.Database, migrationsDir: string): string {
  const here = versionOf(handle)
  const known = inShort(
    readdirSync(migrationsDir)
      .filter((name) => name.endsWith('.sql'))
      .sort(),
  )
  if (here !== known)
    throw new Conflict(
      `This copy is of another version than this program (its database has taken ${here}, the program's ${known}). Install the same version as on the machine that writes. ${FRESH}`,
    )
  return known
}
