import { integer, primaryKey, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import type { Account, EntryKind } from '../../server/money/journal.rules'

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
