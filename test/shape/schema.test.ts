import { getTableConfig, type SQLiteTable } from 'drizzle-orm/sqlite-core'
import { afterAll, expect, test } from 'vitest'
import * as schema from '#db/schema/index'
import { openStage } from '#test/stage'

const stage = openStage()
afterAll(() => stage.close())

const KIND = { text: 'TEXT', integer: 'INTEGER', real: 'REAL', blob: 'BLOB' } as const

test.each(Object.values(schema).map((table) => getTableConfig(table as SQLiteTable)))(
  'table $name is the same in code and in the database',
  (config) => {
    const inDatabase = stage.db.all<{ name: string; type: string; notnull: number; pk: number }>(`PRAGMA table_info(${config.name})`)
    const inCode = config.columns.map((column) => ({
      name: column.name,
      type: KIND[column.getSQLType() as keyof typeof KIND],
    }))
    expect(inDatabase.map(({ name, type }) => ({ name, type }))).toEqual(inCode)
    for (const column of config.columns) {
      const row = inDatabase.find(({ name }) => name === column.name)
      expect(`${column.name} ${row?.notnull === 1 || row?.pk !== 0}`).toBe(`${column.name} ${column.notNull || column.primary}`)
    }
  },
)

test('every table is strict', () => {
  const loose = stage.db.all(
    "SELECT name FROM pragma_table_list WHERE schema = 'main' AND type = 'table' AND strict = 0 AND name NOT LIKE 'sqlite_%'",
  )
  expect(loose).toEqual([])
})

test('every table of the database is known in code, but for the list of migrations', () => {
  const known = new Set(Object.values(schema).map((table) => getTableConfig(table as SQLiteTable).name))
  const unknown = stage.db
    .all<{ name: string }>("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'")
    .filter(({ name }) => !known.has(name))
  expect(unknown).toEqual([{ name: 'migration' }])
})
