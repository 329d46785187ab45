import type Database from 'better-sqlite3'
import type { Instant } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import { type DueWork, openDue } from './due'
import type { Fact, Turn } from './turn'

export interface Recorded extends Fact {
  seq: number
  at: Instant
}

interface Waiting {
  now: Instant
  work(turn: Turn): unknown
  resolve(answer: unknown): void
  reject(reason: unknown): void
}

/** Whoever waits for the answers of one group. */
export interface WaitingGroup {
  /** What the group did is held by others too: its answers go out. */
  held(): void
  /** It has taken too long, or can never be: whoever asked is told so, and answers that come later reach nobody. */
  tooLate(reason: unknown): void
}

/** Where what is committed goes before it is answered. */
export interface Outgoing {
  /** Why nothing is taken at this moment; null on a good day. */
  refusal(): Refusal | null
  /** Whether another group may set out; if not, `whenRoom` tells once when it may. */
  hasRoom(): boolean
  whenRoom(go: () => void): void
  /** Within the transaction, when its work is done: keeps what it changed. */
  keep(): void
  /** After the commit: sends what was kept. Groups are told in order. */
  send(waiting: WaitingGroup): void
}

interface QueueParts {
  handle: Database.Database
  /** Stamps a command as it enters; never runs backwards. */
  stamp(): Instant
  /** Makes the turn of one command; facts are gathered in `facts`. */
  turnAt(now: Instant, facts: Recorded[]): Turn
  /** What has fallen due by a command's stamp is done before it, whatever becomes of the command. */
  due: DueWork
  /** Milliseconds that go by on the machine, while it sleeps as well. */
  passed?(): number
  /** Called after the commit with all facts of the group, in order. */
  announce(facts: Recorded[]): void
  /**
   * The disk is full: nothing of this group was kept. Answers whether room could be made, and then the group is tried again. Where
   * it could not, each later command is tried as it comes, so the house goes on by itself when there is room.
   */
  full(reason: unknown): boolean
  /** Something was kept, however small: whether there is room for more, and the house is not full any more. */
  room(): boolean
  /** Why what is committed would be kept nowhere at this moment; null on a good day. */
  misplaced?(): Refusal | null
  /** Without it answers go out after the commit. */
  outgoing?: Outgoing
  /** An I/O or corruption error: the house stops taking commands and says so. */
  broken(reason: unknown): void
  /** For how long another program may hold the database before whoever asked is refused; five seconds unless told. */
  longestHeldMs?: number
}

export interface Queue {
  run<T>(work: (turn: Turn) => T): Promise<T>
  /** A command that the house gives itself each second. After the first, a gap between two is looked at as a start is. */
  beat<T>(work: (turn: Turn) => T): Promise<T>
  /** Commits at once what waits, without waiting for the event loop to turn. */
  settle(): void
}

const DISK_FAULT = /^SQLITE_(IOERR|CORRUPT|NOTADB|READONLY|CANTOPEN)/
const DISK_FULL = /^(SQLITE_FULL|ENOSPC|EDQUOT)/
const FILE_HELD = /^SQLITE_(BUSY|LOCKED)/

/** What whoever asked for something is told that found no room. */
export const NO_ROOM = 'The house’s disk is full, so nothing was stored. What you wrote is still here; try again in a minute.'

/** For so long the thread itself waits for another program that writes to the database; then pages go on, and it is tried again. */
const THREAD_WAITS_MS = 100
const TRIED_AGAIN_MS = 20
/** After this whoever asked is told. */
const LONGEST_HELD_MS = 5_000

/** What whoever asked is told while another program writes to the database, for longer than the house waits for it. */
export const HELD_BY_ANOTHER =
  'Another program holds the house’s database, so nothing was stored. What you wrote is still here; try again in a minute.'

/**
 * The one writer. All commands of one event-loop turn share one transaction, each in a savepoint of
 * its own, so that a refusal undoes only itself; answers go out after the commit has been synced. What is
 * due comes first, in a savepoint before that of the command: while it cannot be done, no command is taken.
 */
export function openQueue(parts: QueueParts): Queue {
  const { handle, stamp, turnAt, due, passed, announce, full, room, misplaced, outgoing, broken, longestHeldMs = LONGEST_HELD_MS } = parts
  let waiting: Waiting[] = []
  let stopped: unknown = null
  let isFull = false
  let heldSince: number | null = null
  handle.pragma(`busy_timeout = ${THREAD_WAITS_MS}`)
  const begin = handle.prepare('BEGIN IMMEDIATE')
  const commit = handle.prepare('COMMIT')
  const rollback = handle.prepare('ROLLBACK')
  const mark = handle.prepare('SAVEPOINT command')
  const release = handle.prepare('RELEASE command')
  const undo = handle.prepare('ROLLBACK TO command')
  const dueFirst = openDue(due, passed)
  const changes = handle.prepare('SELECT total_changes()').pluck()
  const written = () => Number(changes.get())

  /** Does the work in a savepoint of its own: what stops it undoes it alone, and is thrown on. */
  const inSavepoint = <T>(facts: Recorded[], work: () => T): T => {
    const from = facts.length
    mark.run()
    try {
      const answer = work()
      release.run()
      return answer
    } catch (reason) {
      if (handle.inTransaction) {
        undo.run()
        release.run()
      }
      facts.length = from
      throw reason
    }
  }

  const flush = () => {
    if (waiting.length === 0) return
    // The sign-in library shares this handle and may be between two of its own statements.
    if (handle.inTransaction) {
      setImmediate(flush)
      return
    }
    if (outgoing && !outgoing.hasRoom() && !outgoing.refusal()) {
      outgoing.whenRoom(flush)
      return
    }
    const group = waiting
    waiting = []
    const refusal = misplaced?.() ?? outgoing?.refusal()
    if (refusal) {
      for (const one of group) one.reject(refusal)
      return
    }
    const answers: (() => void)[] = []
    const facts: Recorded[] = []
    const undone = dueFirst.mark()
    const before = isFull ? written() : 0
    try {
      begin.run()
      for (const one of group) {
        try {
          const turn = turnAt(one.now, facts)
          if (dueFirst.isDue(turn)) inSavepoint(facts, () => dueFirst.run(turn))
          const from = facts.length
          const answer = inSavepoint(facts, () => one.work(turn))
          dueFirst.noteFacts(facts, from)
          answers.push(() => one.resolve(answer))
        } catch (reason) {
          if (!handle.inTransaction || [DISK_FAULT, DISK_FULL, FILE_HELD].some((codes) => has(codes, reason))) throw reason
          answers.push(() => one.reject(reason))
        }
      }
      outgoing?.keep()
      commit.run()
    } catch (reason) {
      if (handle.inTransaction) rollback.run()
      undone()
      if (has(DISK_FULL, reason)) {
        if (full(reason)) {
          waiting = [...group, ...waiting]
          setImmediate(flush)
          return
        }
        isFull = true
        for (const one of group) one.reject(new Refusal('no-room', NO_ROOM))
        return
      }
      if (has(FILE_HELD, reason)) {
        heldSince ??= performance.now()
        if (performance.now() - heldSince < longestHeldMs) {
          waiting = [...group, ...waiting]
          setTimeout(flush, TRIED_AGAIN_MS)
          return
        }
        for (const one of group) one.reject(new Refusal('file-held', HELD_BY_ANOTHER))
        return
      }
      if (has(DISK_FAULT, reason)) {
        stopped = reason
        broken(reason)
      }
      for (const one of group) one.reject(reason)
      return
    }
    heldSince = null
    // Whoever was refused and wrote nothing has found no room.
    if (isFull && written() > before && room()) isFull = false
    const held = () => {
      for (const answer of answers) answer()
      if (facts.length > 0) announce(facts)
    }
    if (!outgoing) held()
    else
      outgoing.send({
        held,
        tooLate: (reason) => {
          for (const one of group) one.reject(reason)
        },
      })
  }

  const run = <T>(work: (turn: Turn) => T): Promise<T> =>
    new Promise((resolve, reject) => {
      if (stopped) {
        reject(stopped)
        return
      }
      waiting.push({ now: stamp(), work, resolve: resolve as (answer: unknown) => void, reject })
      if (waiting.length === 1) setImmediate(flush)
    })

  return {
    settle: flush,
    run,
    beat: (work) =>
      run((turn) => {
        const answer = work(turn)
        dueFirst.hear()
        return answer
      }),
  }
}

const has = (codes: RegExp, reason: unknown): boolean =>
  typeof reason === 'object' && reason !== null && 'code' in reason && codes.test(String(reason.code))
