import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { expect, test } from 'vitest'
import { HOUR } from '#kernel/instant'
import { noteChangedRows, openRowChanger, rowsShape, tablesOf } from '#runtime/standby/changed-rows'
import { tellStory } from '#seed/story'
import { NOON, openStage } from '#test/stage'

const everything = (handle: Database.Database): Record<string, unknown[]> =>
  Object.fromEntries(
    tablesOf(handle).map(({ name, key }) => [
      name,
      handle.prepare(`SELECT * FROM "${name}" ORDER BY ${key.map((one) => `"${one}"`).join(', ')}`).all(),
    ]),
  )

const takeRows = (handle: Database.Database) => {
  const bodies = handle.prepare('SELECT body FROM changed_row ORDER BY n').pluck().all() as string[]
  handle.exec('DELETE FROM changed_row')
  return rowsShape.parse(bodies.map((body) => JSON.parse(body)))
}

test('another database to which all changed rows of a whole campaign are told holds the same in every table', {
  timeout: 120_000,
}, async () => {
  const dir = mkdtempSync(join(tmpdir(), 'tagstrip-told-'))
  const stage = openStage({ now: 0, isDemo: true, publicUrl: 'https://bench.example' })
  const own = stage.db.$client
  await own.backup(join(dir, 'other.db'))
  const other = new Database(join(dir, 'other.db'))
  try {
    noteChangedRows(own)
    await tellStory({ now: NOON, house: stage.house, goTo: (at) => stage.clock.set(Math.max(stage.clock.now(), at)), say: () => {} })
    stage.clock.pass(HOUR)
    await stage.command(() => {})
    other.pragma('foreign_keys = 0')
    const change = openRowChanger(other)
    const rows = takeRows(own)
    other.transaction(() => {
      for (const row of rows) change(row)
    })()
    const here = everything(own)
    const there = everything(other)
    for (const [name, all] of Object.entries(here)) expect(there[name], name).toEqual(all)
    expect(other.pragma('foreign_key_check')).toEqual([])
    // It was no empty day: of most tables there is something to compare.
    expect(Object.values(here).filter((all) => all.length > 0).length).toBeGreaterThan(40)
  } finally {
    other.close()
    stage.close()
    rmSync(dir, { recursive: true, force: true })
  }
})

test('what was undone is not told, and figures with fractions, nothing and bytes come as they were', () => {
  const dir = mkdtempSync(join(tmpdir(), 'tagstrip-told-'))
  const stage = openStage()
  const own = stage.db.$client
  try {
    own.exec('CREATE TABLE sample (a TEXT, b INTEGER, c REAL, d BLOB, e TEXT, PRIMARY KEY (a, b)) STRICT, WITHOUT ROWID')
    noteChangedRows(own)
    own.exec('BEGIN; SAVEPOINT one')
    own.prepare('INSERT INTO sample VALUES (?, ?, ?, ?, ?)').run('undone', 1, null, null, null)
    own.exec('ROLLBACK TO one; RELEASE one')
    own.prepare('INSERT INTO sample VALUES (?, ?, ?, ?, ?)').run('kept "so"', 1, 0.1 + 0.2, Buffer.from([0, 255, 7]), null)
    own.prepare('INSERT INTO sample VALUES (?, ?, ?, ?, ?)').run('goes', 2, 1e-300, null, 'é\n')
    own.prepare('UPDATE sample SET b = 3, e = ? WHERE a = ?').run('later', 'kept "so"')
    own.prepare('DELETE FROM sample WHERE a = ?').run('goes')
    own.exec('COMMIT')
    const rows = takeRows(own).filter(([table]) => table === 'sample')
    expect(rows).toHaveLength(4)
    const kept = own.prepare('SELECT * FROM sample').all()
    own.exec('DELETE FROM sample')
    const change = openRowChanger(own)
    for (const row of rows) change(row)
    expect(own.prepare('SELECT * FROM sample').all()).toEqual(kept)
    expect(kept).toEqual([{ a: 'kept "so"', b: 3, c: 0.1 + 0.2, d: Buffer.from([0, 255, 7]), e: 'later' }])
  } finally {
    stage.close()
    rmSync(dir, { recursive: true, force: true })
  }
})

test('what Litestream keeps in a database to hold its log is told to nobody, and keeps nobody from following', () => {
  const handle = new Database(':memory:')
  handle.exec('CREATE TABLE thing (id INTEGER PRIMARY KEY); CREATE TABLE _litestream_lock (id INTEGER)')
  handle.exec(
    'CREATE TABLE _litestream_seq (id INTEGER PRIMARY KEY, seq INTEGER); CREATE TABLE changed_row (n INTEGER PRIMARY KEY, body TEXT)',
  )
  noteChangedRows(handle)
  handle.exec('INSERT INTO _litestream_seq VALUES (1, 1); INSERT INTO thing VALUES (7)')
  expect(takeRows(handle)).toEqual([['thing', null, [7]]])
  handle.close()
})
