import { integer, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import type { Importance } from '#bench/buildable/build.contract'
import { gift } from './donors'
import { unit } from './units'

export const unitImportance = sqliteTable('unit_importance', {
  unitId: text('unit_id')
    .primaryKey()
    .references(() => unit.id),
  importance: integer('importance').$type<Importance>().notNull(),
})

export const buildReady = sqliteTable('build_ready', {
  id: integer('id').primaryKey(),
  readyOn: text('ready_on'),
  benchDays: integer('bench_days').notNull(),
})

export const giftExpected = sqliteTable('gift_expected', {
  giftId: text('gift_id')
    .primaryKey()
    .references(() => gift.id),
  expectedOn: text('expected_on').notNull(),
})
