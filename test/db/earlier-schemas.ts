import { execFileSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { type Step, stepsIn, wordsOfStep } from '#db/steps'
import { sealingSteps } from '#sale/lots/sealing-steps'
import { MIGRATIONS } from '#test/make/packed'

/** A step as a program had it: under which name, and what it said. */
export interface StepThen {
  name: Step
  sql: string
}
/** The steps that a program had, in their order. */
export type Schema = readonly StepThen[]

const KEYS = { seal: () => new Uint8Array(32) }
export const SEALING = sealingSteps(KEYS)

const EARLIER = join(import.meta.dirname, 'earlier')
const read = (dir: string): StepThen[] => stepsIn(dir).map((name) => ({ name, sql: readFileSync(join(dir, name), 'utf8') }))

export const schemaOfToday = (): Schema => read(MIGRATIONS)

/** Short enough to be read, long enough to tell the texts of one step from each other. */
export const markOf = ({ name, sql }: StepThen): string =>
  `${name.slice(0, 4)} ${createHash('sha256').update(sql).digest('hex').slice(0, 12)}`

/** The list of a schema as it is recorded: number and mark of each step, on a line. */
export const lineOf = (schema: Schema): string => schema.map(markOf).join(', ')

/** What stands behind the marks: the steps of today, and former texts of those that were changed. */
export function schemaFrom(line: string): Schema {
  const texts = new Map([...read(EARLIER), ...schemaOfToday()].map((step) => [markOf(step).slice(5), step]))
  return line.split(', ').map((mark) => {
    const found = texts.get(mark.slice(5))
    if (!found) throw new Error(`No text is kept of the step ${mark}: put it into test/db/earlier as it was, under its name.`)
    return { name: `${mark.slice(0, 4)}-${wordsOfStep(found.name)}`, sql: found.sql }
  })
}

/** All schemas that programs of this history had, the oldest first; null on a checkout without history. */
export function schemasOfHistory(): Schema[] | null {
  const git = (...words: string[]) =>
    execFileSync('git', words, { encoding: 'utf8', maxBuffer: 2 ** 28, stdio: ['ignore', 'pipe', 'ignore'] })
  let commits: string[]
  try {
    commits = git('rev-list', '--reverse', 'HEAD', '--', 'db/migrations').trim().split('\n')
  } catch {
    return null
  }
  return commits.map((commit) =>
    git('ls-tree', '-r', commit, 'db/migrations/')
      .trim()
      .split('\n')
      .map((line) => /^\d+ blob ([0-9a-f]+)\tdb\/migrations\/(.*\.sql)$/.exec(line))
      .flatMap((found) => (found?.[1] && found[2] ? [{ name: found[2], sql: git('cat-file', 'blob', found[1]) }] : []))
      .sort((a, b) => (a.name < b.name ? -1 : 1)),
  )
}

/** Makes a database as the program of then made it. */
export function buildThen(file: string, schema: Schema): void {
  const handle = new Database(file)
  handle.pragma('journal_mode = WAL')
  handle.pragma('synchronous = OFF')
  for (const [name, work] of Object.entries(SEALING)) handle.function(name, { directOnly: true, varargs: true }, work)
  handle
    .transaction(() => {
      handle.exec('CREATE TABLE migration (name TEXT PRIMARY KEY, at INTEGER NOT NULL) STRICT')
      for (const { name, sql } of schema) {
        handle.exec(sql)
        handle.prepare('INSERT INTO migration (name, at) VALUES (?, 0)').run(name)
      }
    })
    .immediate()
  handle.pragma('user_version = 0')
  handle.close()
}

/** All of a schema that does not depend on the order in which columns were added. */
export function shapeOf(handle: Database.Database): string[] {
  const rows = handle.prepare('SELECT type, name, sql FROM sqlite_schema WHERE sql IS NOT NULL ORDER BY type, name').all() as {
    type: string
    name: string
    sql: string
  }[]
  return rows.map(({ type, name, sql }) => `${type} ${name}: ${type === 'table' ? partsOf(sql) : sql}`)
}

/** The columns and constraints of a table, sorted. */
function partsOf(sql: string): string {
  const plain = sql.replace(/--.*$/gm, ' ').replace(/\s+/g, ' ')
  const inside = plain.slice(plain.indexOf('(') + 1, plain.lastIndexOf(')'))
  const parts: string[] = []
  let part = ''
  let depth = 0
  let isQuoted = false
  for (const letter of inside) {
    if (letter === "'") isQuoted = !isQuoted
    if (!isQuoted && letter === '(') depth += 1
    if (!isQuoted && letter === ')') depth -= 1
    if (letter === ',' && depth === 0 && !isQuoted) {
      parts.push(part.trim())
      part = ''
    } else part += letter
  }
  return [...parts, part.trim()].sort().join('\n  ') + plain.slice(plain.lastIndexOf(')') + 1)
}

export const recordedFile = join(import.meta.dirname, 'earlier-schemas.txt')
export const recordedLines = (): string[] => readFileSync(recordedFile, 'utf8').trim().split('\n')
export const earlierTexts = (): string[] => readdirSync(EARLIER)
