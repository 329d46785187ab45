import { integer, primaryKey, real, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import type { Cause } from '#bench/faults/fault.contract'
import { photograph } from './campaign'
import { design } from './designs'
import { person } from './people'
import { unit } from './units'

export const fault = sqliteTable('fault', {
  id: text('id').primaryKey(),
  unitId: text('unit_id')
    .notNull()
    .references(() => unit.id),
  checkKey: text('check_key'),
  symptom: text('symptom').notNull(),
  openedAt: integer('opened_at').notNull(),
  openedByPersonId: text('opened_by_person_id')
    .notNull()
    .references(() => person.id),
  closedAt: integer('closed_at'),
  closedByPersonId: text('closed_by_person_id').references(() => person.id),
  cause: text('cause').$type<Cause>(),
  block: text('block'),
  designator: text('designator'),
  changed: text('changed'),
  minutes: integer('minutes'),
  seen: text('seen', { mode: 'json' }).$type<Record<string, boolean>>().notNull(),
})

export const setCatch = sqliteTable(
  'set_catch',
  {
    designId: text('design_id')
      .notNull()
      .references(() => design.id),
    checkKey: text('check_key').notNull(),
    block: text('block').notNull(),
    share: real('share').notNull(),
    at: integer('at').notNull(),
    byPersonId: text('by_person_id')
      .notNull()
      .references(() => person.id),
  },
  (table) => [primaryKey({ columns: [table.designId, table.checkKey, table.block] })],
)

export const testPoint = sqliteTable(
  'test_point',
  {
    designKey: text('design_key').notNull(),
    point: text('point').notNull(),
    block: text('block').notNull(),
    expects: text('expects').notNull(),
    at: integer('at').notNull(),
    byPersonId: text('by_person_id')
      .notNull()
      .references(() => person.id),
  },
  (table) => [primaryKey({ columns: [table.designKey, table.point] })],
)

export const observation = sqliteTable('observation', {
  id: text('id').primaryKey(),
  unitId: text('unit_id')
    .notNull()
    .references(() => unit.id),
  at: integer('at').notNull(),
  byPersonId: text('by_person_id')
    .notNull()
    .references(() => person.id),
  place: text('place').notNull(),
  block: text('block').notNull(),
  found: text('found').notNull(),
  isGood: integer('is_good', { mode: 'boolean' }).notNull(),
  isPowered: integer('is_powered', { mode: 'boolean' }).notNull(),
})

export const boardPhotograph = sqliteTable(
  'board_photograph',
  {
    designKey: text('design_key').notNull(),
    photoSha: text('photo_sha')
      .notNull()
      .references(() => photograph.sha),
    words: text('words').notNull(),
    at: integer('at').notNull(),
    byPersonId: text('by_person_id')
      .notNull()
      .references(() => person.id),
  },
  (table) => [primaryKey({ columns: [table.designKey, table.photoSha] })],
)

export const boardPin = sqliteTable(
  'board_pin',
  {
    designKey: text('design_key').notNull(),
    photoSha: text('photo_sha').notNull(),
    mark: text('mark').notNull(),
    x: integer('x').notNull(),
    y: integer('y').notNull(),
    at: integer('at').notNull(),
    byPersonId: text('by_person_id')
      .notNull()
      .references(() => person.id),
  },
  (table) => [primaryKey({ columns: [table.designKey, table.photoSha, table.mark] })],
)
