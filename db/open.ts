import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { type BetterSQLite3Database, drizzle } from 'drizzle-orm/better-sqlite3'
import * as schema from './schema/index'

/** `$client` is the handle itself, for the few statements of the hot path that are plain SQL. */
export type Db = BetterSQLite3Database<typeof schema> & { $client: Database.Database }

/** What every connection is set to, and asserted: WAL with FULL, since WAL with NORMAL may lose acknowledged bids in a power cut. */
const PRAGMAS = {
  journal_mode: 'wal',
  synchronous: 2,
  foreign_keys: 1,
  busy_timeout: 5000,
  trusted_schema: 0,
  cell_size_check: 1,
  mmap_size: 0,
} as const

export interface OpenDatabase {
  db: Db
  handle: Database.Database
}

/** What a migration may call for that SQL cannot do, by name: it seals what lay open. */
export type StepFunctions = Readonly<Record<string, (...values: never[]) => string>>

/** What a migration leaves as the file's user version when it took out what must stand in no free page either. */
const TO_BE_WRITTEN_ANEW = 1

/** Opens the database at `file`, sets and asserts the pragmas and applies what migrations are missing, all in one transaction. */
export function openDatabase(file: string, migrationsDir: string, functions: StepFunctions): OpenDatabase {
  const handle = new Database(file)
  for (const [name, want] of Object.entries(PRAGMAS)) {
    handle.pragma(`${name} = ${want}`)
    // SQLite answers nothing for mmap_size where it is compiled out, which is as good as 0.
    const got = handle.pragma(name, { simple: true }) ?? 0
    if (got !== want) throw new Error(`SQLite refused ${name} = ${want}: it is ${got}`)
  }
  for (const [name, work] of Object.entries(functions)) handle.function(name, { directOnly: true, varargs: true }, work)
  migrate(handle, migrationsDir)
  return { db: drizzle(handle, { schema }), handle }
}

function migrate(handle: Database.Database, dir: string): void {
  handle.exec('CREATE TABLE IF NOT EXISTS migration (name TEXT PRIMARY KEY, at INTEGER NOT NULL) STRICT')
  const applied = new Set(handle.prepare('SELECT name FROM migration').pluck().all())
  const missing = readdirSync(dir)
    .filter((name) => name.endsWith('.sql') && !applied.has(name))
    .sort()
  if (missing.length === 0 && !isToBeWrittenAnew(handle)) return
  const note = handle.prepare('INSERT INTO migration (name, at) VALUES (?, unixepoch() * 1000)')
  handle
    .transaction(() => {
      for (const name of missing) {
        handle.exec(readFileSync(join(dir, name), 'utf8'))
        note.run(name)
      }
    })
    .immediate()
  // In a new file nothing lay open.
  if (applied.size === 0) handle.pragma('user_version = 0')
  else if (isToBeWrittenAnew(handle)) writeAnew(handle)
}

const isToBeWrittenAnew = (handle: Database.Database): boolean => handle.pragma('user_version', { simple: true }) === TO_BE_WRITTEN_ANEW

/** Leaves in the file and in its log what the tables hold, and nothing of what they held. While somebody else reads, it is done at the next opening. */
function writeAnew(handle: Database.Database): void {
  handle.exec('VACUUM')
  const [{ busy }] = handle.pragma('wal_checkpoint(TRUNCATE)') as [{ busy: number }]
  if (busy === 0) handle.pragma('user_version = 0')
}
