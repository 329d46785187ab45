import type Database from 'better-sqlite3'
import { Column, is, Param, Placeholder } from 'drizzle-orm'
import { invariant } from '../server/kernel/invariant'
import type { Db } from './open'

type Plain = string | number | null
type Values<Name extends string> = Record<Name, Plain>

/**
 * A write of the hot path as a plain statement: built and typed by Drizzle, run without it, which halves what each
 * row of a bid costs. For columns that hold text and integers as they are; names are those of the placeholders.
 */
export function plainWrite<Name extends string>(
  db: Db,
  query: { toSQL(): { sql: string; params: unknown[] } },
): (values: Values<Name>) => Database.RunResult {
  const { sql, params } = query.toSQL()
  const statement = db.$client.prepare(sql)
  const order = params.map((param) => {
    const name = slotOf<Name>(param)
    invariant(name !== null, 'a write of the hot path is given all its values when it runs')
    return name
  })
  return (values) => statement.run(...order.map((name) => values[name]))
}

/** A query as Drizzle builds it: what it selects, and the shape of its rows. */
interface Select {
  toSQL(): { sql: string; params: unknown[] }
  readonly _: { readonly selectedFields: object; readonly result: unknown[] }
}

/** A read of the hot path in the same way: all rows that it finds. What is not a placeholder is given to it as it stands. */
export function plainRead<Name extends string, Query extends Select>(db: Db, query: Query): (values: Values<Name>) => Query['_']['result'] {
  const { sql, params } = query.toSQL()
  const statement = db.$client.prepare(sql).raw()
  const slots = params.map((param) => ({ name: slotOf<Name>(param), fixed: param as Plain }))
  const names = Object.entries(query._.selectedFields).map(([name, column]) => {
    invariant(is(column, Column) && PLAIN.has(column.columnType), `${name} is not stored as it is read`)
    return name
  })
  return (values) =>
    statement.all(...slots.map(({ name, fixed }) => (name === null ? fixed : values[name]))).map((cells) => {
      const row: Record<string, unknown> = {}
      for (let index = 0; index < names.length; index++) row[names[index] as string] = (cells as Plain[])[index]
      return row
    })
}

const PLAIN = new Set(['SQLiteText', 'SQLiteInteger'])

function slotOf<Name extends string>(param: unknown): Name | null {
  const slot = is(param, Param) ? param.value : param
  return is(slot, Placeholder) ? (slot.name as Name) : null
}
