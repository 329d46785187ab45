import { integer, primaryKey, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import type { Role } from '#kernel/role'

export const alias = sqliteTable(
  'alias',
  {
    lotId: text('lot_id').notNull(),
    personId: text('person_id').notNull(),
    alias: text('alias').notNull(),
    voidedAt: integer('voided_at'),
  },
  (table) => [primaryKey({ columns: [table.lotId, table.personId] })],
)

export const bid = sqliteTable('bid', {
  id: text('id').primaryKey(),
  lotId: text('lot_id').notNull(),
  sequence: integer('sequence').notNull(),
  personId: text('person_id').notNull(),
  alias: text('alias').notNull(),
  sealed: text('sealed').notNull(),
  at: integer('at').notNull(),
  answer: text('answer').notNull(),
})

export const ledgerLeaf = sqliteTable(
  'ledger_leaf',
  {
    lotId: text('lot_id').notNull(),
    position: integer('position').notNull(),
    body: text('body').notNull(),
  },
  (table) => [primaryKey({ columns: [table.lotId, table.position] })],
)

export const ledgerHead = sqliteTable(
  'ledger_head',
  {
    lotId: text('lot_id').notNull(),
    size: integer('size').notNull(),
    root: text('root').notNull(),
    checkpoint: text('checkpoint').notNull(),
  },
  (table) => [primaryKey({ columns: [table.lotId, table.size] })],
)

export const voidRequest = sqliteTable(
  'void_request',
  {
    lotId: text('lot_id').notNull(),
    alias: text('alias').notNull(),
    reason: text('reason').notNull(),
    askedBy: text('asked_by').notNull(),
    at: integer('at').notNull(),
    askedRole: text('asked_role').$type<Role>().notNull(),
  },
  (table) => [primaryKey({ columns: [table.lotId, table.alias] })],
)

export const closingHold = sqliteTable('closing_hold', {
  id: text('id').primaryKey(),
  since: integer('since').notNull(),
  reason: text('reason').notNull(),
  byPersonId: text('by_person_id'),
  until: integer('until'),
  shiftMs: integer('shift_ms'),
})
