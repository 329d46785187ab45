import { integer, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import type { LayoutChoice } from '#money/bank/layout.rules'
import type { CostBearer } from '#money/journal/journal.rules'

export const bankLine = sqliteTable('bank_line', {
  id: text('id').primaryKey(),
  digest: text('digest').notNull(),
  twin: integer('twin').notNull(),
  seq: integer('seq').notNull(),
  valueOn: text('value_on').notNull(),
  amountMinor: integer('amount_minor').notNull(),
  words: text('words').notNull(),
  name: text('name').notNull(),
  reference: text('reference').notNull(),
  file: text('file').notNull(),
  line: integer('line').notNull(),
  readAt: integer('read_at').notNull(),
  readByPersonId: text('read_by_person_id'),
  state: text('state').$type<'open' | 'placed' | 'set aside'>().notNull().default('open'),
  why: text('why').notNull().default(''),
  settledAt: integer('settled_at'),
  settledByPersonId: text('settled_by_person_id'),
  bookedOn: text('booked_on').notNull().default(''),
  currency: text('currency').notNull().default(''),
})

export const bankStatement = sqliteTable('bank_statement', {
  id: text('id').primaryKey(),
  account: text('account').notNull(),
  opensOn: text('opens_on').notNull(),
  closesOn: text('closes_on').notNull(),
  openingMinor: integer('opening_minor').notNull(),
  closingMinor: integer('closing_minor').notNull(),
  file: text('file').notNull(),
  at: integer('at').notNull(),
  byPersonId: text('by_person_id'),
})

export const bankMatch = sqliteTable('bank_match', {
  entryId: text('entry_id').primaryKey(),
  lineId: text('line_id').notNull(),
  isMade: integer('is_made', { mode: 'boolean' }).notNull(),
})

export const bankLayout = sqliteTable('bank_layout', {
  id: text('id').primaryKey(),
  headings: text('headings', { mode: 'json' }).$type<string[]>().notNull(),
  account: text('account').notNull(),
  choice: text('choice', { mode: 'json' }).$type<LayoutChoice>().notNull(),
  file: text('file').notNull(),
  at: integer('at').notNull(),
  byPersonId: text('by_person_id'),
  processor: text('processor').notNull().default(''),
  bearer: text('bearer').$type<CostBearer | ''>().notNull().default(''),
})
