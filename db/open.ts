import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { type BetterSQLite3Database, drizzle } from 'drizzle-orm/better-sqlite3'
import { MENDS } from './mended'
import * as schema from './schema/index'
import { refuseLater, type Step, standingIn, standingOf, stepsIn, wordsOfStep } from './steps'

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
  // What a savepoint may have to undo: above 64 kB of it SQLite would write each page that a bid changes into a temporary file as well.
  temp_store: 2,
} as const

export interface OpenDatabase {
  db: Db
  handle: Database.Database
}

/** What a migration may call for that SQL cannot do, by name: it seals what lay open. */
export type StepFunctions = Readonly<Record<string, (...values: never[]) => string>>

/** What a migration leaves as the file's user version when it took out what must stand in no free page either. */
const TO_BE_WRITTEN_ANEW = 1

/** Called with what is missing before anything is changed in a database that holds something. */
export type BeforeSteps = (missing: readonly Step[]) => void

/**
 * Opens the database at `file`, sets and asserts the pragmas and takes what steps are missing, all in one transaction. One that a
 * newer program has changed is refused, in words, before anything is written.
 */
export function openDatabase(
  file: string,
  migrationsDir: string,
  functions: StepFunctions,
  beforeSteps: BeforeSteps = () => {},
): OpenDatabase {
  const standing = standingIn(file, migrationsDir)
  refuseLater(standing, `The database ${file}`)
  if (standing && standing.taken.length > 0 && standing.missing.length > 0) beforeSteps(standing.missing)
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
  const { taken, missing } = standingOf(handle, dir)
  const noted = new Map(taken.map((step) => [wordsOfStep(step), step]))
  const renumbered = stepsIn(dir).flatMap((step) => {
    const before = noted.get(wordsOfStep(step))
    return before === undefined || before === step ? [] : [{ before, step }]
  })
  const mends = MENDS.filter(({ isDue }) => isDue(handle))
  if (missing.length > 0 || renumbered.length > 0 || mends.length > 0)
    handle
      .transaction(() => {
        handle.exec('CREATE TABLE IF NOT EXISTS migration (name TEXT PRIMARY KEY, at INTEGER NOT NULL) STRICT')
        // Whoever reads the notes finds the names of today. Two may have changed places, so all go out of the way first.
        const rename = handle.prepare('UPDATE migration SET name = ? WHERE name = ?')
        for (const { before } of renumbered) rename.run(`was ${before}`, before)
        for (const { before, step } of renumbered) rename.run(step, `was ${before}`)
        for (const { mend } of mends) mend(handle)
        const note = handle.prepare('INSERT INTO migration (name, at) VALUES (?, unixepoch() * 1000)')
        for (const name of missing) {
          handle.exec(readFileSync(join(dir, name), 'utf8'))
          note.run(name)
        }
      })
      .immediate()
  // In a new file nothing lay open.
  if (taken.length === 0) handle.pragma('user_version = 0')
  else if (isToBeWrittenAnew(handle)) writeAnew(handle)
}

const isToBeWrittenAnew = (handle: Database.Database): boolean => handle.pragma('user_version', { simple: true }) === TO_BE_WRITTEN_ANEW

/** Leaves in the file and in its log what the tables hold, and nothing of what they held. While somebody else reads, it is done at the next opening. */
function writeAnew(handle: Database.Database): void {
  handle.exec('VACUUM')
  const [{ busy }] = handle.pragma('wal_checkpoint(TRUNCATE)') as [{ busy: number }]
  if (busy === 0) handle.pragma('user_version = 0')
}
