import { integer, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import type { FixedPriceEnd, FixedPriceTerms } from '#sale/fixed-price/fixed-price.contract'

export const fixedPrice = sqliteTable('fixed_price', {
  id: text('id').primaryKey(),
  lotId: text('lot_id').notNull(),
  priceMinor: integer('price_minor').notNull(),
  lastDay: text('last_day'),
  openUntil: integer('open_until'),
  terms: text('terms', { mode: 'json' }).$type<FixedPriceTerms>().notNull(),
  offeredAt: integer('offered_at').notNull(),
  offeredByPersonId: text('offered_by_person_id'),
  ended: text('ended').$type<FixedPriceEnd>(),
  endedAt: integer('ended_at'),
  entryId: text('entry_id'),
  fellThroughAt: integer('fell_through_at'),
})
