import { existsSync, readdirSync, statSync } from 'node:fs'
import Database from 'better-sqlite3'

/**
 * A step is a file of `db/migrations`, `0044-what-it-does.sql`. It is known by its words. The number says only after which others
 * it is taken, and has been changed in several after houses had taken them; so words are never changed, and never used twice.
 */
export type Step = string

export const wordsOfStep = (step: Step): string => step.replace(/^\d+-/, '')

/** The steps in a folder, in their order. */
export const stepsIn = (dir: string): Step[] =>
  readdirSync(dir)
    .filter((name) => name.endsWith('.sql'))
    .sort()

/** Where a database stands among the steps that a program has. */
export interface Standing {
  /** What it has taken, by the names that were noted then. */
  taken: Step[]
  missing: Step[]
  /** What it has taken and this program does not know. */
  unknown: Step[]
}

export function standingOf(handle: Database.Database, dir: string): Standing {
  const hasNotes = handle.prepare("SELECT 1 FROM sqlite_schema WHERE type = 'table' AND name = 'migration'").get() !== undefined
  const taken = hasNotes ? (handle.prepare('SELECT name FROM migration ORDER BY name').pluck().all() as Step[]) : []
  const steps = stepsIn(dir)
  const known = new Set(steps.map(wordsOfStep))
  const has = new Set(taken.map(wordsOfStep))
  return {
    taken,
    missing: steps.filter((step) => !has.has(wordsOfStep(step))),
    unknown: taken.filter((step) => !known.has(wordsOfStep(step))),
  }
}

/** The same of a file in which nothing is touched; null where there is none yet. */
export function standingIn(file: string, dir: string): Standing | null {
  if (!existsSync(file) || statSync(file).size === 0) return null
  const handle = new Database(file, { readonly: true })
  try {
    return standingOf(handle, dir)
  } finally {
    handle.close()
  }
}

/** Refuses, in words and before anything is written, a database that a newer program has changed. `what` it is: "The copy". */
export function refuseLater(standing: Standing | null, what: string): void {
  const step = standing?.unknown.at(-1)
  if (step === undefined) return
  throw new Error(
    `${what} was made by a newer Tagstrip: this one does not know the step ${step} of its database. Nothing was changed. Update the program to that version or a later one, or take a copy from before the update.`,
  )
}
