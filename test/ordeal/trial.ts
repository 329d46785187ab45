import { appendFileSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { type Chance, seededChance } from '#kernel/seeded'

/** Something that the house promised and did not keep. The row stops there, and the ordeal with it. */
export class Lie extends Error {
  constructor(
    readonly promised: string,
    readonly seen: string,
    /** What was being done, in words that lead back to it. */
    readonly step: string,
  ) {
    super(`promised: ${promised}\nseen: ${seen}\nwhile: ${step}`)
  }
}

export interface Row {
  id: string
  what: string
  goal: string
  /** How often it has to be tried for the goal; a row that a minute decides has its minutes here. */
  times: number
  unit: string
  /** Its share of the time, against the others' of one each. */
  weight?: number
  run(trial: Trial): Promise<void>
}

/** One run of a row: how long it may take, its chance, what it has tried, and where it writes. */
export interface Trial {
  row: Row
  seed: number
  chance: Chance
  /** A folder of its own, which goes with it. */
  dir: string
  /** Whether another round may begin: there is time, and the goal is not reached. */
  goesOn(): boolean
  /** All is laid out: the row's time begins now. */
  begins(): void
  secondsLeft(): number
  tried(more?: number): void
  /** Something that a reader of the table should know of how it was tried. */
  note(words: string): void
  /** What cannot be tried on this machine; the row is then left out, which is no success. */
  leaveOut(why: string): void
  /** Done at the end, whatever happened, the last first. */
  atEnd(work: () => unknown): void
  result: Result
}

export interface Result {
  tried: number
  lies: number
  notes: string[]
  leftOut: string | null
  seconds: number
}

const below = (chance: Chance, count: number): number => Math.floor(chance() * count)
export const pick = <T>(chance: Chance, all: readonly T[]): T => all[below(chance, all.length)] as T
export const between = (chance: Chance, least: number, most: number): number => least + below(chance, most - least + 1)

export interface RowEnd {
  result: Result
  lie: Lie | null
}

/** Runs one row for its seconds. What it started is ended whatever happens; a fault that is no lie of the house is thrown on. */
export async function runRow(row: Row, wishes: { seed: number; seconds: number; changed?: (result: Result) => void }): Promise<RowEnd> {
  const { seed, seconds, changed = () => {} } = wishes
  let began = performance.now()
  const spent = () => (performance.now() - began) / 1000
  const result: Result = { tried: 0, lies: 0, notes: [], leftOut: null, seconds: 0 }
  const ends: (() => unknown)[] = []
  const dir = mkdtempSync(join(tmpdir(), `tagstrip-ordeal-${row.id}-`))
  const tell = () => {
    result.seconds = spent()
    changed(result)
  }
  const trial: Trial = {
    row,
    seed,
    chance: seededChance(seed),
    dir,
    result,
    goesOn: () => result.leftOut === null && spent() < seconds && result.tried < row.times,
    begins() {
      began = performance.now()
    },
    secondsLeft: () => Math.max(0, seconds - spent()),
    tried(more = 1) {
      result.tried += more
      tell()
    },
    note(words) {
      if (!result.notes.includes(words)) result.notes.push(words)
      tell()
    },
    leaveOut(why) {
      result.leftOut = why
      tell()
    },
    atEnd: (work) => ends.push(work),
  }
  let lie: Lie | null = null
  try {
    await row.run(trial)
  } catch (reason) {
    if (!(reason instanceof Lie)) throw reason
    lie = reason
    result.lies += 1
  } finally {
    for (const work of ends.reverse()) await work()
    rmSync(dir, { recursive: true, force: true })
    tell()
  }
  return { result, lie }
}

/** A file outside the house in which the client keeps what it asked and what it was told, each line written before the next step. */
export function noteFile(file: string) {
  mkdirSync(dirname(file), { recursive: true })
  return (line: object) => appendFileSync(file, `${JSON.stringify(line)}\n`)
}

export const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms))
