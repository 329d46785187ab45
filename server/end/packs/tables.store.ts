import type Database from 'better-sqlite3'
import type { PackedRow } from './manifest.contract'

// A pack holds the whole house, so these statements read and write the tables of every room. Table names come from the database itself.

export const listTables = (handle: Database.Database): string[] =>
  handle
    .prepare(
      "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' AND name NOT GLOB '_litestream_*' ORDER BY name",
    )
    .pluck()
    .all() as string[]

export const columnsOf = (handle: Database.Database, table: string): string[] =>
  handle.prepare('SELECT name FROM pragma_table_info(?) ORDER BY cid').pluck().all(table) as string[]

/** One row after another, in the order in which they were kept. */
export const rowsOf = (handle: Database.Database, table: string): IterableIterator<PackedRow> =>
  handle.prepare(`SELECT * FROM ${quoted(table)} ORDER BY ${orderOf(handle, table)}`).iterate() as IterableIterator<PackedRow>

export const countRows = (handle: Database.Database, table: string): number =>
  handle
    .prepare(`SELECT count(*) FROM ${quoted(table)}`)
    .pluck()
    .get() as number

/** The number of each lot by its id. */
export function lotNumbers(handle: Database.Database): (lotId: string | number | null) => number {
  const numbers = new Map(handle.prepare('SELECT id, number FROM lot').raw().all() as [string, number][])
  return (lotId) => {
    const number = numbers.get(String(lotId))
    if (number === undefined) throw new Error(`There is no lot ${lotId}.`)
    return number
  }
}

export const lastMigration = (handle: Database.Database): string =>
  handle.prepare('SELECT max(name) FROM migration').pluck().get() as string

/** Puts rows back as they were. The caller drops triggers, and checks the keys between tables when all rows are in. */
export function inserterOf(handle: Database.Database, table: string, columns: readonly string[]): (row: PackedRow) => void {
  const places = columns.map((name) => `@${name}`).join(', ')
  const insert = handle.prepare(`INSERT INTO ${quoted(table)} (${columns.map(quoted).join(', ')}) VALUES (${places})`)
  return (row) => void insert.run(row)
}

/** Drops all triggers of the database, and answers what puts them back as they were written. */
export function dropTriggers(handle: Database.Database): () => void {
  const triggers = handle.prepare("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'").all() as { name: string; sql: string }[]
  for (const { name } of triggers) handle.exec(`DROP TRIGGER ${quoted(name)}`)
  return () => {
    for (const { sql } of triggers) handle.exec(sql)
  }
}

const orderOf = (handle: Database.Database, table: string): string => {
  const keys = handle.prepare('SELECT name FROM pragma_table_info(?) WHERE pk > 0 ORDER BY pk').pluck().all(table) as string[]
  return keys.length > 0 ? keys.map(quoted).join(', ') : 'rowid'
}

// Names come from the database itself, or were found there.
const quoted = (name: string): string => `"${name.replaceAll('"', '""')}"`
