import type Database from 'better-sqlite3'
import { z } from 'zod'

/**
 * What changed in the rows of a database, whoever changed it: commands, reactions, sweeps, the sign-in library, other triggers.
 * Triggers of this connection alone write it into `changed_row`, within the same transaction and savepoint, so what is undone
 * is not told, and what is kept is.
 */

/** Tables that say where this one database stands, and are no part of what the house knows. */
const OWN: readonly string[] = ['published_group', 'changed_row', 'unconfirmed_message', 'migration']
/** Nor are those by which Litestream holds the log of this database. */
const LITESTREAMS = '_litestream_'

interface Table {
  name: string
  columns: { name: string; type: string }[]
  key: string[]
}

/** Each table with its columns and its primary key. */
export function tablesOf(handle: Database.Database): Table[] {
  const names = handle
    .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite\\_%' ESCAPE '\\' ORDER BY name")
    .pluck()
    .all() as string[]
  return names
    .filter((name) => !OWN.includes(name) && !name.startsWith(LITESTREAMS))
    .map((name) => {
      // Generated columns follow from the others, and are not among these.
      const columns = handle.pragma(`table_info(${quoted(name)})`) as { name: string; type: string; pk: number }[]
      const key = columns.filter(({ pk }) => pk > 0).sort((a, b) => a.pk - b.pk)
      if (key.length === 0) throw new Error(`The table ${name} has no primary key, so no other machine could follow its rows.`)
      return { name, columns, key: key.map((column) => column.name) }
    })
}

const quoted = (name: string): string => `"${name.replaceAll('"', '""')}"`
const literal = (words: string): string => `'${words.replaceAll("'", "''")}'`

/** A figure with a fraction needs seventeen digits to be the same again; JSON of SQLite writes fifteen. */
function toldValue(of: 'old' | 'new', { name, type }: Table['columns'][number]): string {
  const value = `${of}.${quoted(name)}`
  if (type === 'REAL') return `CASE WHEN ${value} IS NULL THEN NULL ELSE printf('%!.17g', ${value}) END`
  if (type === 'BLOB') return `CASE WHEN ${value} IS NULL THEN NULL ELSE hex(${value}) END`
  return value
}

/** From here on each row that this connection changes is noted. */
export function noteChangedRows(handle: Database.Database): void {
  for (const table of tablesOf(handle)) {
    const name = quoted(table.name)
    const columnOf = (column: string) => table.columns.find((one) => one.name === column) ?? { name: column, type: '' }
    const keyOf = (of: 'old' | 'new') => `json_array(${table.key.map((column) => toldValue(of, columnOf(column))).join(', ')})`
    const all = `json_array(${table.columns.map((column) => toldValue('new', column)).join(', ')})`
    const changed = `json_array(${table.columns.map((column) => `old.${quoted(column.name)} IS NOT new.${quoted(column.name)}`).join(', ')})`
    const note = (event: string, row: string) =>
      handle.exec(
        `CREATE TEMP TRIGGER ${quoted(`note_${event}_${table.name}`)} AFTER ${event} ON main.${name} BEGIN
          INSERT INTO changed_row (body) VALUES (json_array(${literal(table.name)}, ${row}));
        END`,
      )
    note('INSERT', `NULL, ${all}`)
    note('UPDATE', `${keyOf('old')}, ${all}, ${changed}`)
    note('DELETE', keyOf('old'))
  }
}

const plain = z.union([z.string(), z.number(), z.null()])
const rowShape = z.union([
  z.tuple([z.string(), z.null(), z.array(plain)]),
  z.tuple([z.string(), z.array(plain), z.array(plain), z.array(z.number())]),
  z.tuple([z.string(), z.array(plain)]),
])
export const rowsShape = z.array(rowShape)
export type ChangedRow = z.infer<typeof rowShape>

/**
 * Makes the same changes in another database. What a trigger of the table does beside them has been noted as well and is made
 * twice, the second time as it was told.
 */
export function openRowChanger(handle: Database.Database): (row: ChangedRow) => void {
  const tables = new Map(tablesOf(handle).map((table) => [table.name, table]))
  const statements = new Map<string, Database.Statement>()
  const prepared = (sql: string) => {
    const found = statements.get(sql) ?? handle.prepare(sql)
    statements.set(sql, found)
    return found
  }
  return ([name, key, values, changed]) => {
    const table = tables.get(name)
    if (!table) throw new Error(`There is no table ${name} here.`)
    const asKept = (column: string, value: z.infer<typeof plain>) => {
      const type = table.columns.find((one) => one.name === column)?.type
      if (value === null || (type !== 'REAL' && type !== 'BLOB')) return value
      return type === 'REAL' ? Number(value) : Buffer.from(String(value), 'hex')
    }
    const where = table.key.map((column) => `${quoted(column)} = ?`).join(' AND ')
    const keyValues = (key ?? []).map((value, index) => asKept(table.key[index] ?? '', value))
    if (values === undefined) {
      prepared(`DELETE FROM main.${quoted(name)} WHERE ${where}`).run(...keyValues)
      return
    }
    const columns = table.columns.map((column) => column.name)
    const kept = columns.map((column, index) => asKept(column, values[index] ?? null))
    if (changed === undefined) {
      const others = columns.filter((column) => !table.key.includes(column))
      const again =
        others.length === 0 ? 'NOTHING' : `UPDATE SET ${others.map((one) => `${quoted(one)} = excluded.${quoted(one)}`).join(', ')}`
      prepared(
        `INSERT INTO main.${quoted(name)} (${columns.map(quoted).join(', ')}) VALUES (${columns.map(() => '?').join(', ')})
         ON CONFLICT (${table.key.map(quoted).join(', ')}) DO ${again}`,
      ).run(...kept)
      return
    }
    // Only what was changed: a trigger that forbids a column to change must not be asked for others.
    const moved = columns.flatMap((column, index) => (changed[index] === 1 ? [{ column, value: kept[index] }] : []))
    if (moved.length === 0) return
    prepared(`UPDATE main.${quoted(name)} SET ${moved.map(({ column }) => `${quoted(column)} = ?`).join(', ')} WHERE ${where}`).run(
      ...moved.map(({ value }) => value),
      ...keyValues,
    )
  }
}
