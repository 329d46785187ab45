import { integer, primaryKey, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import type { LinkPhase } from '#sale/either-or/either-or.rules'

export const chain = sqliteTable('chain', {
  id: text('id').primaryKey(),
  personId: text('person_id').notNull(),
  mostWins: integer('most_wins').notNull(),
  at: integer('at').notNull(),
  sealedCap: text('sealed_cap'),
})

export const chainLink = sqliteTable(
  'chain_link',
  {
    chainId: text('chain_id').notNull(),
    place: integer('place').notNull(),
    lotId: text('lot_id').notNull(),
    sealed: text('sealed').notNull(),
    phase: text('phase').$type<LinkPhase>().notNull().default('waiting'),
    why: text('why'),
    wokeAt: integer('woke_at'),
    hammerMinor: integer('hammer_minor'),
  },
  (table) => [primaryKey({ columns: [table.chainId, table.place] })],
)
