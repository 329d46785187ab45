import type Database from 'better-sqlite3'
import { is, Param, Placeholder } from 'drizzle-orm'
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
    const slot = is(param, Param) ? param.value : param
    invariant(is(slot, Placeholder), 'a write of the hot path is given all its values when it runs')
    return slot.name as Name
  })
  return (values) => statement.run(...order.map((name) => values[name]))
}
