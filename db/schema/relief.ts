import { integer, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import type { ReliefCountry } from '#money/relief/relief.data'

export const reliefSwitch = sqliteTable('relief_switch', {
  country: text('country').$type<ReliefCountry>().primaryKey(),
  isOn: integer('is_on', { mode: 'boolean' }).notNull(),
  at: integer('at').notNull(),
  byPersonId: text('by_person_id'),
})

export const lotValue = sqliteTable('lot_value', {
  lotId: text('lot_id').primaryKey(),
  valueMinor: integer('value_minor').notNull(),
  knownFrom: text('known_from').notNull(),
  at: integer('at').notNull(),
  byPersonId: text('by_person_id'),
})
