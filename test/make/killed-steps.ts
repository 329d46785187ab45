import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { appendFileSync, cpSync, existsSync, mkdirSync, readdirSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { build } from 'esbuild'
import { openDatabase } from '#db/open'
import { type Step, standingIn, stepsIn, wordsOfStep } from '#db/steps'
import { listCopies } from '#runtime/disk/manifest'
import { sweepParts } from '#runtime/disk/thin-backups'
import { buildThen, SEALING, schemaFrom, shapeOf } from '#test/db/earlier-schemas'
import { MIGRATIONS } from './packed'

/**
 * A house as an earlier program left it. The program of today takes the steps that it misses, and is killed meanwhile. Each answers
 * what is not as it should be, in words, or null.
 */
export interface EarlierHouse {
  /** What the program of today does first. */
  missing: readonly Step[]
  /** Lets it take all steps. */
  opened(): Promise<string | null>
  /** Kills it within a step, at its end. */
  killedIn(step: Step): Promise<string | null>
  /** Kills it when so much of the time has gone by that all steps take, from 0 to 1. */
  killedAfter(share: number): Promise<string | null>
  close(): void
}

const TODAY = stepsIn(MIGRATIONS).map(wordsOfStep)

/** Bundles the program that takes the steps. */
export async function buildStepper(dist: string): Promise<string> {
  const outfile = join(dist, 'stepping-house.mjs')
  await build({
    entryPoints: [join(import.meta.dirname, 'stepping-house.ts')],
    outfile,
    bundle: true,
    packages: 'external',
    platform: 'node',
    target: 'node20',
    format: 'esm',
    logLevel: 'warning',
  })
  return outfile
}

/** Lays one out in a new folder, by the line of its schema in the record. */
export function layOutEarlier(dir: string, program: string, line: string): EarlierHouse {
  const old = join(dir, 'old')
  mkdirSync(old, { recursive: true })
  buildThen(join(old, 'tagstrip.db'), schemaFrom(line))
  const standing = standingIn(join(old, 'tagstrip.db'), MIGRATIONS)
  const before = (standing?.taken ?? []).map(wordsOfStep)
  const missing = standing?.missing ?? []
  let wholeMs: number | null = null
  let shapeOfToday: string[] | null = null
  let round = 0

  /** Starts it on a folder; killed after so many milliseconds where that is said. Answers how long it took. */
  const change = async (data: string, steps: string, killAfterMs?: number): Promise<number> => {
    const child = spawn(process.execPath, [program, data, steps], { stdio: ['ignore', 'pipe', 'inherit'] })
    const ended = once(child, 'exit')
    await once(child.stdout, 'data')
    const since = performance.now()
    const killing = killAfterMs === undefined ? undefined : setTimeout(() => child.kill('SIGKILL'), killAfterMs)
    await ended
    clearTimeout(killing)
    return performance.now() - since
  }

  const inFolder = async (work: (data: string) => Promise<string | null>): Promise<string | null> => {
    const data = join(dir, `data-${++round}`)
    cpSync(old, data, { recursive: true })
    try {
      return await work(data)
    } finally {
      rmSync(data, { recursive: true })
    }
  }

  /** Whether the schema is that of today, or still the one of then; words where it is neither. */
  const standsIn = (data: string): 'new' | 'old' | { words: string } => {
    const file = join(data, 'tagstrip.db')
    // Read as it was left, log and all.
    const left = join(data, 'left')
    mkdirSync(left)
    for (const end of ['', '-wal']) if (existsSync(file + end)) cpSync(file + end, join(left, `tagstrip.db${end}`))
    const handle = new Database(join(left, 'tagstrip.db'))
    try {
      const verdict = String(handle.pragma('integrity_check', { simple: true }))
      if (verdict !== 'ok') return { words: `the database is damaged: ${verdict}` }
      const taken = (handle.prepare('SELECT name FROM migration').pluck().all() as string[]).map(wordsOfStep)
      if (areAlike(taken, TODAY)) return 'new'
      return areAlike(taken, before)
        ? 'old'
        : { words: `${taken.length} of ${TODAY.length} steps were taken, of which ${before.length} were there` }
    } finally {
      handle.close()
      rmSync(left, { recursive: true })
    }
  }

  /** The next program opens it, and each copy that has its name is whole; of a house that had to be changed there is one. */
  const opensNow = (data: string): string | null => {
    const { handle } = openDatabase(join(data, 'tagstrip.db'), MIGRATIONS, SEALING)
    const shape = shapeOf(handle)
    handle.close()
    shapeOfToday ??= shapeIn(dir)
    if (!areAlike(shape, shapeOfToday)) return 'the next program opens it, and its tables are others than those of a new house'
    const backups = join(data, 'backups')
    sweepParts(backups, false)
    const there = existsSync(backups) ? readdirSync(backups).length : 0
    const whole = listCopies(backups).length
    return there === whole ? null : `of ${there} copies ${whole} are whole`
  }
  const hasCopy = (data: string) => listCopies(join(data, 'backups')).length === 1

  return {
    missing,
    opened: () =>
      inFolder(async (data) => {
        wholeMs = await change(data, MIGRATIONS)
        const stands = standsIn(data)
        if (typeof stands === 'object') return stands.words
        if (stands !== 'new' && missing.length > 0) return 'the steps were not taken'
        if (missing.length > 0 && !hasCopy(data)) return 'no copy was made first'
        return opensNow(data)
      }),
    killedIn: (step) =>
      inFolder(async (data) => {
        const steps = join(data, 'steps')
        cpSync(MIGRATIONS, steps, { recursive: true })
        appendFileSync(join(steps, step), '\nSELECT die();\n')
        await change(data, steps)
        const stands = standsIn(data)
        if (typeof stands === 'object') return stands.words
        if (stands === 'new') return `killed in ${step}, it stands there as if that step had been taken`
        if (!hasCopy(data)) return 'no copy was made first'
        return opensNow(data)
      }),
    killedAfter: (share) =>
      inFolder(async (data) => {
        if (wholeMs === null) throw new Error('it has to be opened once first, to know how long that takes')
        await change(data, MIGRATIONS, wholeMs * share)
        const stands = standsIn(data)
        if (typeof stands === 'object') return stands.words
        if (stands === 'new' && missing.length > 0 && !hasCopy(data)) return 'no copy was made first'
        return opensNow(data)
      }),
    close: () => rmSync(dir, { recursive: true, force: true }),
  }
}

/** The tables of a new house. */
function shapeIn(dir: string): string[] {
  const { handle } = openDatabase(join(dir, 'new.db'), MIGRATIONS, SEALING)
  const shape = shapeOf(handle)
  handle.close()
  return shape
}

const areAlike = (one: readonly string[], other: readonly string[]): boolean =>
  one.length === other.length && [...one].sort().every((name, at) => name === [...other].sort()[at])
