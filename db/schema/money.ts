import { integer, primaryKey, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import type { Account, CostAbout, EntryKind } from '#money/journal/journal.rules'
import type { MatchBase } from '#money/matching/matching.rules'

export const entry = sqliteTable('entry', {
  seq: integer('seq').primaryKey(),
  id: text('id').notNull().unique(),
  at: integer('at').notNull(),
  kind: text('kind').$type<EntryKind>().notNull(),
  memo: text('memo').notNull().default(''),
  reference: text('reference').notNull().default(''),
  valueOn: text('value_on').notNull(),
  lotId: text('lot_id'),
  personId: text('person_id'),
  donorId: text('donor_id'),
  byPersonId: text('by_person_id'),
  correctsId: text('corrects_id').unique(),
  placesId: text('places_id'),
  promiseId: text('promise_id'),
  about: text('about').$type<CostAbout | ''>().notNull().default(''),
  runId: text('run_id'),
  campaignNumber: integer('campaign_number').notNull().default(1),
})

export const posting = sqliteTable(
  'posting',
  {
    entryId: text('entry_id').notNull(),
    line: integer('line').notNull(),
    account: text('account').$type<Account>().notNull(),
    amountMinor: integer('amount_minor').notNull(),
  },
  (table) => [primaryKey({ columns: [table.entryId, table.line] })],
)

export const matchPromise = sqliteTable('match_promise', {
  id: text('id').primaryKey(),
  fromName: text('from_name').notNull(),
  donorId: text('donor_id'),
  base: text('base').$type<MatchBase>().notNull(),
  ratioBp: integer('ratio_bp').notNull(),
  capMinor: integer('cap_minor').notNull(),
  at: integer('at').notNull(),
  byPersonId: text('by_person_id'),
  endedAt: integer('ended_at'),
  endedWhy: text('ended_why').notNull().default(''),
  campaignNumber: integer('campaign_number').notNull().default(1),
})
