import { integer, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import type { Fate } from '#bench/earlier/earlier.contract'
import type { SheetState, SheetWhat } from '#gifts/sheets/sheets.contract'
import type { Currency } from '#kernel/money'

export const sheet = sqliteTable('sheet', {
  id: text('id').primaryKey(),
  what: text('what').$type<SheetWhat>().notNull(),
  name: text('name').notNull(),
  base64: text('base64'),
  pasted: text('pasted'),
  choice: text('choice').notNull().default('{}'),
  answers: text('answers').notNull().default('{}'),
  state: text('state').$type<SheetState>().notNull(),
  plan: text('plan'),
  items: integer('items').notNull().default(0),
  done: integer('done').notNull().default(0),
  summary: text('summary').notNull().default('[]'),
  digest: text('digest'),
  at: integer('at').notNull(),
  changedAt: integer('changed_at').notNull(),
  storedAt: integer('stored_at'),
  byPersonId: text('by_person_id'),
})

export const earlierMachine = sqliteTable('earlier_machine', {
  id: text('id').primaryKey(),
  design: text('design').notNull(),
  serial: text('serial').notNull().default(''),
  builtOn: text('built_on'),
  minutes: integer('minutes'),
  raisedMinor: integer('raised_minor'),
  currency: text('currency').$type<Currency>(),
  fate: text('fate').$type<Fate>().notNull(),
  fateOn: text('fate_on'),
  at: integer('at').notNull(),
  byPersonId: text('by_person_id'),
})
