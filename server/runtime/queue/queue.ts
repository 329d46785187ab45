import type Database from 'better-sqlite3'
import type { Instant } from '#kernel/instant'
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

interface QueueParts {
  handle: Database.Database
  /** Stamps a command as it enters; never runs backwards. */
  stamp(): Instant
  /** Makes the turn of one command; facts are gathered in `facts`. */
  turnAt(now: Instant, facts: Recorded[]): Turn
  /** Called after the commit with all facts of the group, in order. */
  announce(facts: Recorded[]): void
  /** An I/O or corruption error: the house stops taking commands and says so. */
  broken(reason: unknown): void
}

export interface Queue {
  run<T>(work: (turn: Turn) => T): Promise<T>
  /** Commits at once what waits, without waiting for the event loop to turn. */
  settle(): void
}

const DISK_FAULT = /^SQLITE_(IOERR|CORRUPT|FULL|NOTADB|READONLY|CANTOPEN)/

/**
 * The one writer. All commands of one event-loop turn share one transaction, each in a savepoint of
 * its own, so that a refusal undoes only itself; answers go out after the commit has been synced.
 */
export function openQueue({ handle, stamp, turnAt, announce, broken }: QueueParts): Queue {
  let waiting: Waiting[] = []
  let stopped: unknown = null
  const begin = handle.prepare('BEGIN IMMEDIATE')
  const commit = handle.prepare('COMMIT')
  const rollback = handle.prepare('ROLLBACK')
  const mark = handle.prepare('SAVEPOINT command')
  const release = handle.prepare('RELEASE command')
  const undo = handle.prepare('ROLLBACK TO command')

  const flush = () => {
    if (waiting.length === 0) return
    // The sign-in library shares this handle and may be between two of its own statements.
    if (handle.inTransaction) {
      setImmediate(flush)
      return
    }
    const group = waiting
    waiting = []
    const answers: (() => void)[] = []
    const facts: Recorded[] = []
    try {
      begin.run()
      for (const one of group) {
        const from = facts.length
        mark.run()
        try {
          const answer = one.work(turnAt(one.now, facts))
          release.run()
          answers.push(() => one.resolve(answer))
        } catch (reason) {
          if (!handle.inTransaction) throw reason
          undo.run()
          release.run()
          facts.length = from
          answers.push(() => one.reject(reason))
          if (isDiskFault(reason)) throw reason
        }
      }
      commit.run()
    } catch (reason) {
      if (handle.inTransaction) rollback.run()
      if (isDiskFault(reason)) {
        stopped = reason
        broken(reason)
      }
      for (const one of group) one.reject(reason)
      return
    }
    for (const answer of answers) answer()
    if (facts.length > 0) announce(facts)
  }

  return {
    settle: flush,
    run: (work) =>
      new Promise((resolve, reject) => {
        if (stopped) {
          reject(stopped)
          return
        }
        waiting.push({ now: stamp(), work, resolve: resolve as (answer: unknown) => void, reject })
        if (waiting.length === 1) setImmediate(flush)
      }),
  }
}

const isDiskFault = (reason: unknown): boolean =>
  typeof reason === 'object' && reason !== null && 'code' in reason && DISK_FAULT.test(String(reason.code))
