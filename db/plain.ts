import type Database from 'better-sqlite3'
import { Column, is, Param, Placeholder } from 'drizzle-orm'
import { invariant } from '#kernel/invariant'
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
  const order = slotsOf<Name>(params)
  return (values) => statement.run(...order.map((name) => values[name]))
}

/** A query as Drizzle builds it: what it selects, and the shape of its rows. */
interface Select {
  toSQL(): { sql: string; params: unknown[] }
  readonly _: { readonly selectedFields: object; readonly result: unknown[] }
}

/** A read of the hot path in the same way: all rows that it finds for the values of `slots`, which are its placeholders. */
export function plainRead<Name extends string, Query extends Select>(
  db: Db,
  slots: readonly Name[],
  query: Query,
): (values: Values<Name>) => Query['_']['result'] {
  const { sql, params } = query.toSQL()
  const statement = db.$client.prepare(sql).raw()
  const order = slotsOf<Name>(params)
  invariant(order.length === slots.length && order.every((name) => slots.includes(name)), 'a read of the hot path names its placeholders')
  const names = Object.entries(query._.selectedFields).map(([name, column]) => {
    invariant(is(column, Column) && PLAIN.has(column.columnType), `${name} is not stored as it is read`)
    return name
  })
  return (values) =>
    statement.all(...order.map((name) => values[name])).map((cells) => {
      const row: Record<string, unknown> = {}
      for (let index = 0; index < names.length; index++) row[names[index] as string] = (cells as Plain[])[index]
      return row
    })
}

const PLAIN = new Set(['SQLiteText', 'SQLiteInteger'])

/** The placeholders of a statement of the hot path, in its order: all that it is given, it is given when it runs. */
function slotsOf<Name extends string>(params: readonly unknown[]): Name[] {
  return params.map((param) => {
    const slot = is(param, Param) ? param.value : param
    invariant(is(slot, Placeholder), 'a statement of the hot path is given all its values when it runs')
    return slot.name as Name
  })
}
