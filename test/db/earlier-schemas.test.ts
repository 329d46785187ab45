import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { openDatabase } from '#db/open'
import { stepsIn, wordsOfStep } from '#db/steps'
import { MIGRATIONS } from '#test/make/packed'
import {
  buildThen,
  earlierTexts,
  lineOf,
  recordedFile,
  recordedLines,
  SEALING,
  schemaFrom,
  schemaOfToday,
  schemasOfHistory,
  shapeOf,
} from './earlier-schemas'

// Every schema that a program of this house ever had is opened by the program of today. `npm run earlier-schemas` looks through
// the history; the suite through the list that was recorded from it, so that it needs no history.

let dir: string
let file: string
beforeEach(() => {
  dir = mkdtempSync(join(tmpdir(), 'tagstrip-schemas-'))
  file = join(dir, 'tagstrip.db')
})
afterEach(() => rmSync(dir, { recursive: true, force: true }))

const today = (): { shape: string[]; noted: string[] } => {
  const { handle } = openDatabase(file, MIGRATIONS, SEALING)
  const noted = handle.prepare('SELECT name FROM migration ORDER BY name').pluck().all() as string[]
  const shape = shapeOf(handle)
  expect(handle.pragma('integrity_check', { simple: true })).toBe('ok')
  handle.close()
  return { shape, noted }
}

let fresh: string[]
beforeAll(() => {
  const beside = mkdtempSync(join(tmpdir(), 'tagstrip-schemas-'))
  const { handle } = openDatabase(join(beside, 'fresh.db'), MIGRATIONS, SEALING)
  fresh = shapeOf(handle)
  handle.close()
  rmSync(beside, { recursive: true })
})

describe('a database of an earlier program is opened', () => {
  test.each(recordedLines().map((line) => [`${line.split(', ').length} steps, to ${line.slice(-17)}`, line]))('%s', (_, line) => {
    buildThen(file, schemaFrom(line))
    const { shape, noted } = today()
    expect(shape).toEqual(fresh)
    // Whoever reads the notes finds the names of today.
    expect(noted).toEqual(stepsIn(MIGRATIONS))
  })

  test('the steps of today are in the list: npm run earlier-schemas -- -u adds them', () => {
    expect(recordedLines()).toContain(lineOf(schemaOfToday()))
  })

  test('of texts that were changed no more are kept than are needed', () => {
    const now = new Set(schemaOfToday().map(({ sql }) => sql))
    for (const name of earlierTexts()) expect(now.has(readFileSync(join(import.meta.dirname, 'earlier', name), 'utf8'))).toBe(false)
  })
})

test.runIf(process.env.EARLIER_SCHEMAS)('every schema of the history is in the list', async () => {
  const history = schemasOfHistory()
  if (!history) throw new Error('There is no history here: npm run earlier-schemas needs a checkout of git.')
  const lines = new Set([...history, schemaOfToday()].filter((schema) => schema.length > 0).map(lineOf))
  await expect(`${[...lines].join('\n')}\n`).toMatchFileSnapshot(recordedFile)
})

test('no two steps have the same words, since they are known by them', () => {
  const words = stepsIn(MIGRATIONS).map(wordsOfStep)
  expect(new Set(words).size).toBe(words.length)
})

describe('what a step did that was changed later is mended', () => {
  const build = (last: string, earlierText: string) => {
    const texts = join(import.meta.dirname, 'earlier')
    const [changed = ''] = readdirSync(texts).filter((name) => name.startsWith(earlierText))
    const steps = schemaOfToday().filter(({ name }) => name <= last)
    buildThen(
      file,
      steps.map((step) => (step.name === changed ? { ...step, sql: readFileSync(join(texts, changed), 'utf8') } : step)),
    )
    const handle = new Database(file)
    handle.pragma('foreign_keys = OFF')
    return handle
  }

  test('verdicts are words, and what is left of the digest of a file is not lost', () => {
    const handle = build('0011', '0005')
    handle.exec(`
      INSERT INTO reading (id, unit_id, seq, check_key, at, by_person_id, entry, value, unit, decimals, rule, verdict, file_sha, batches, revision)
      VALUES ('r', 'u', 1, 'k', 0, 'p', '5.0', 5, 'V', 1, 'simple', 'pass-within-doubt', '0123abcd', '{}', 'A')`)
    handle.close()
    today()
    const { handle: opened } = openDatabase(file, MIGRATIONS, SEALING)
    expect(opened.prepare('SELECT verdict, note, file_sha FROM reading').get()).toEqual({
      verdict: 'pass within doubt',
      note: 'File 0123abcd.',
      file_sha: null,
    })
    expect(() => opened.exec("UPDATE reading SET verdict = 'pass-within-doubt'")).toThrow('CHECK')
    opened.close()
  })

  test('a cap that stood in words beside its seal is gone, from the pages of the file too', () => {
    const handle = build('0040-z', '0040')
    handle.exec(`
      INSERT INTO chain_link (chain_id, place, lot_id, sealed, phase, why)
      VALUES ('c', 1, 'l', '${'x'.repeat(46)}', 'lapsed', 'Your cap of 743.87 could be passed.')`)
    handle.pragma('wal_checkpoint(TRUNCATE)')
    handle.close()
    expect(readFileSync(file).includes('743.87')).toBe(true)
    today()
    expect(readFileSync(file).includes('743.87')).toBe(false)
  })
})

describe('a database that a newer program has changed', () => {
  test('is refused by the name of the step, and nothing is written', () => {
    const later = join(dir, 'later')
    cpSync(MIGRATIONS, later, { recursive: true })
    writeFileSync(join(later, '9999-what-nobody-knows-yet.sql'), 'CREATE TABLE later (id INTEGER PRIMARY KEY) STRICT;')
    openDatabase(file, later, SEALING).handle.close()
    const before = readFileSync(file)
    expect(() => openDatabase(file, MIGRATIONS, SEALING)).toThrow(
      `The database ${file} was made by a newer Tagstrip: this one does not know the step 9999-what-nobody-knows-yet.sql of its database. Nothing was changed. Update the program`,
    )
    expect(readFileSync(file).equals(before)).toBe(true)
  })

  test('is known by its words: a step that got another number is the same', () => {
    const renumbered = join(dir, 'renumbered')
    mkdirSync(renumbered)
    const steps = stepsIn(MIGRATIONS)
    const last = steps.at(-1) ?? ''
    for (const step of steps) cpSync(join(MIGRATIONS, step), join(renumbered, step === last ? `9998-${wordsOfStep(step)}` : step))
    openDatabase(file, MIGRATIONS, SEALING).handle.close()
    const { handle } = openDatabase(file, renumbered, SEALING)
    expect(handle.prepare('SELECT max(name) FROM migration').pluck().get()).toBe(`9998-${wordsOfStep(last)}`)
    handle.close()
  })
})
