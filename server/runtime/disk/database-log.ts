import { readFileSync, statSync } from 'node:fs'
import type Database from 'better-sqlite3'
import { holdersOf } from './hold'

/** SQLite empties the log at four megabytes; above this somebody held that up. */
const LONG_BYTES = 16 * 1024 * 1024

export interface DatabaseLog {
  /** Makes a log short again that somebody kept from being emptied, if nobody does so any more; answers its size, and otherwise who does. */
  keepShort(): { bytes: number; heldBy: readonly string[] }
}

/**
 * The log in front of a database. While somebody reads what the database was, nothing of what came after can be taken out of
 * the log; and when they are done, SQLite writes it anew from its beginning, but gives back no room. The house does, and
 * waits for nobody while it does so.
 */
export function openDatabaseLog(handle: Database.Database, dataDir: string, longBytes = LONG_BYTES): DatabaseLog {
  const file = `${handle.name}-wal`
  const size = () => statSync(file, { throwIfNoEntry: false })?.size ?? 0
  return {
    keepShort() {
      const bytes = size()
      // The sign-in library shares this handle and may be between two of its own statements.
      if (bytes <= longBytes || handle.inTransaction) return { bytes, heldBy: [] }
      const patience = handle.pragma('busy_timeout', { simple: true })
      handle.pragma('busy_timeout = 0')
      try {
        const [{ busy }] = handle.pragma('wal_checkpoint(TRUNCATE)') as [{ busy: number }]
        return { bytes: size(), heldBy: busy === 0 ? [] : whoReads(`${handle.name}-shm`, dataDir) }
      } finally {
        handle.pragma(`busy_timeout = ${patience}`)
      }
    },
  }
}

/** Who reads stands in the file beside the log: a lock on one of these bytes (SQLite's file format, "WAL-Index Locks", bytes 124 to 127). */
const FIRST_READER = 124
const LAST_READER = 127

/** One line of Linux's own list of locks: kind, mode, process, device and inode, first and last byte. */
const LOCK = /^\d+: POSIX +\S+ +READ +(\d+) [\da-f]+:[\da-f]+:(\d+) (\d+) (\d+)$/gm

function whoReads(file: string, dataDir: string): string[] {
  try {
    const inode = String(statSync(file).ino)
    const found = new Set<number>()
    for (const [, pid, of, first, last] of readFileSync('/proc/locks', 'utf8').matchAll(LOCK))
      if (of === inode && Number(last) >= FIRST_READER && Number(first) <= LAST_READER) found.add(Number(pid))
    const known = holdersOf(dataDir)
    return [...found].map((pid) =>
      pid === process.pid ? 'work of the house itself' : `process ${pid} (${known.get(pid) ?? commandOf(pid)})`,
    )
  } catch {
    return ['another program; this system does not say which']
  }
}

function commandOf(pid: number): string {
  try {
    return readFileSync(`/proc/${pid}/comm`, 'utf8').trim()
  } catch {
    return 'its name is not told'
  }
}
