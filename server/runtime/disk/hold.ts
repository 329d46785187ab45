import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { z } from 'zod'
import { isRunning } from './running'

/**
 * Who has a data folder. The lock is one that the system keeps on a file for a process and lets go of with it, however it
 * ends; SQLite asks for it in the same way on every system, and knows three kinds: one house `lives` in a folder, however
 * many commands `read` it meanwhile, and whoever `swaps` the house has it alone.
 */
export interface Hold {
  release(): void
}

export type Holding = 'reads' | 'lives' | 'swaps'

const BEGIN: Readonly<Record<Holding, string>> = { reads: 'BEGIN', lives: 'BEGIN IMMEDIATE', swaps: 'BEGIN EXCLUSIVE' }
const LOCK = 'house.lock'
const NOTE = /^held-by-(\d+)-\d+\.json$/

const noteShape = z.object({ pid: z.int(), as: z.string(), since: z.string() })
type Note = z.infer<typeof noteShape>

let holds = 0

/** Takes a folder that is there, or says in words which process has it. `as` says what this one is: "an open house". */
export function holdFolder(dataDir: string, holding: Holding, as: string): Hold {
  if (!existsSync(dataDir)) throw new Error(`There is no house in ${dataDir}. Set DATA_DIR to its folder.`)
  const lock = new Database(join(dataDir, LOCK), { timeout: 0 })
  try {
    // Nothing is ever written to it, so it needs no log on the disk.
    lock.pragma('journal_mode = MEMORY')
    lock.exec(BEGIN[holding])
    // Until something is read, nothing is locked for reading.
    lock.prepare('SELECT count(*) FROM sqlite_schema').get()
  } catch (cause) {
    lock.close()
    if (!(cause instanceof Error && 'code' in cause && String(cause.code).startsWith('SQLITE_BUSY'))) throw cause
    throw new Error(`${dataDir} is in use: ${whoHas(dataDir)}. Nothing was changed. Close that first, and do this again.`, { cause })
  }
  if (holding !== 'reads') for (const [name, note] of notes(dataDir)) if (!isRunning(note.pid)) takeAway(join(dataDir, name))
  holds += 1
  const note = join(dataDir, `held-by-${process.pid}-${holds}.json`)
  writeFileSync(note, `${JSON.stringify({ pid: process.pid, as, since: new Date().toISOString() } satisfies Note)}\n`, { mode: 0o600 })
  return {
    release() {
      takeAway(note)
      lock.close()
    },
  }
}

/** A note that stays keeps nobody out: it says whose it is, and the next who comes passes over one whose process has ended. */
function takeAway(note: string): void {
  try {
    rmSync(note, { force: true })
  } catch {
    // What was to be done with the folder is done.
  }
}

/** Which processes have a folder, and as what, by their number. */
export const holdersOf = (dataDir: string): ReadonlyMap<number, string> =>
  new Map(
    notes(dataDir)
      .filter(([, { pid }]) => isRunning(pid))
      .map(([, { pid, as }]) => [pid, as]),
  )

/** Takes away what a folder has of it, where the folder itself is to go again. */
export const forgetHolds = (dataDir: string): void => rmSync(join(dataDir, LOCK), { force: true })

function whoHas(dataDir: string): string {
  const alive = notes(dataDir)
    .map(([, note]) => note)
    .filter(({ pid }) => isRunning(pid))
    .map(({ pid, as, since }) => `process ${pid} has it, ${as}, since ${since}`)
  return alive.length > 0 ? alive.join('; ') : 'another process has it'
}

const notes = (dataDir: string): [string, Note][] =>
  readdirSync(dataDir)
    .filter((name) => NOTE.test(name))
    .flatMap((name) => {
      try {
        return [[name, noteShape.parse(JSON.parse(readFileSync(join(dataDir, name), 'utf8')))] satisfies [string, Note]]
      } catch {
        // It went away meanwhile, or is being written.
        return []
      }
    })
