import { integer, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import { batch, part } from './parts'
import { person } from './people'
import { unit } from './units'

const id = () => text('id').primaryKey()
const at = () => integer('at').notNull()
const byPersonId = () =>
  text('by_person_id')
    .notNull()
    .references(() => person.id)

export const replacementPrice = sqliteTable('replacement_price', {
  id: id(),
  partId: text('part_id').references(() => part.id),
  batchId: text('batch_id').references(() => batch.id),
  minor: integer('minor'),
  pieces: integer('pieces').notNull(),
  source: text('source').notNull(),
  at: at(),
  byPersonId: byPersonId(),
})

export const benchWeek = sqliteTable('bench_week', {
  id: id(),
  pauseMinutes: integer('pause_minutes').notNull(),
  leadMinutes: integer('lead_minutes').notNull(),
  weeklyMinutes: integer('weekly_minutes'),
  at: at(),
  byPersonId: byPersonId(),
})

export const benchTimeCorrection = sqliteTable('bench_time_correction', {
  id: id(),
  unitId: text('unit_id')
    .notNull()
    .references(() => unit.id),
  minutes: integer('minutes').notNull(),
  reason: text('reason').notNull(),
  at: at(),
  byPersonId: byPersonId(),
})

export const spentShown = sqliteTable('spent_shown', {
  unitId: text('unit_id')
    .primaryKey()
    .references(() => unit.id),
  hours: integer('hours', { mode: 'boolean' }).notNull(),
  parts: integer('parts', { mode: 'boolean' }).notNull(),
  at: at(),
  byPersonId: byPersonId(),
})
