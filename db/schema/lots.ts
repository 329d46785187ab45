import { integer, primaryKey, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import type { Correction, LotState, LotTerms, SoldWhere } from '#sale/lots/lots.contract'
import type { Ladder } from '#sale/price/ladder.rules'

const flag = (name: string) => integer(name, { mode: 'boolean' }).notNull()

export const lot = sqliteTable('lot', {
  id: text('id').primaryKey(),
  number: integer('number').notNull(),
  unitId: text('unit_id').notNull(),
  unitTag: text('unit_tag').notNull(),
  title: text('title').notNull().default(''),
  story: text('story').notNull().default(''),
  openingMinor: integer('opening_minor'),
  reserveDecided: flag('reserve_decided').default(false),
  sealedReserve: text('sealed_reserve'),
  lowMinor: integer('low_minor'),
  likelyMinor: integer('likely_minor'),
  highMinor: integer('high_minor'),
  weightGrams: integer('weight_grams'),
  lengthMm: integer('length_mm'),
  widthMm: integer('width_mm'),
  heightMm: integer('height_mm'),
  soldWhere: text('sold_where').$type<SoldWhere>().notNull().default('here'),
  elsewhereUrl: text('elsewhere_url'),
  pricedByPersonId: text('priced_by_person_id'),
  state: text('state').$type<LotState>().notNull().default('draft'),
  closesAt: integer('closes_at'),
  openedAt: integer('opened_at'),
  terms: text('terms', { mode: 'json' }).$type<LotTerms>(),
  heldSince: integer('held_since'),
  heldReason: text('held_reason'),
  heldWithAll: flag('held_with_all').default(false),
  endedAt: integer('ended_at'),
  endReason: text('end_reason'),
  hammerMinor: integer('hammer_minor'),
  winnerPersonId: text('winner_person_id'),
  leaderAlias: text('leader_alias'),
  leaderPersonId: text('leader_person_id'),
  leaderSequence: integer('leader_sequence'),
  secondAlias: text('second_alias'),
  secondSequence: integer('second_sequence'),
  standingMinor: integer('standing_minor'),
  bids: integer('bids').notNull().default(0),
  sequence: integer('sequence').notNull().default(0),
  extensions: integer('extensions').notNull().default(0),
  ledgerSize: integer('ledger_size').notNull().default(0),
  ledgerPeaks: text('ledger_peaks', { mode: 'json' }).$type<string[]>().notNull().default([]),
  headHash: text('head_hash'),
  ladder: text('ladder', { mode: 'json' }).$type<Ladder>(),
  corrections: text('corrections', { mode: 'json' }).$type<Correction[]>().notNull().default([]),
  resultSource: text('result_source'),
  standsMinor: integer('stands_minor'),
  afterwards: text('afterwards').$type<'' | 'kept' | 'given'>().notNull().default(''),
  campaignNumber: integer('campaign_number').notNull().default(1),
})

/** Rules that hold for every lot which has none of its own: a row for each campaign, by its number. */
export const saleRule = sqliteTable('sale_rule', {
  id: integer('id').primaryKey(),
  ladder: text('ladder', { mode: 'json' }).$type<Ladder>().notNull(),
})

export const lotExtra = sqliteTable(
  'lot_extra',
  {
    lotId: text('lot_id').notNull(),
    seq: integer('seq').notNull(),
    words: text('words').notNull(),
    giftId: text('gift_id'),
  },
  (table) => [primaryKey({ columns: [table.lotId, table.seq] })],
)

export const lotPhotograph = sqliteTable(
  'lot_photograph',
  {
    lotId: text('lot_id').notNull(),
    seq: integer('seq').notNull(),
    sha: text('sha').notNull(),
    caption: text('caption').notNull(),
  },
  (table) => [primaryKey({ columns: [table.lotId, table.seq] })],
)

export const lotRecording = sqliteTable(
  'lot_recording',
  {
    lotId: text('lot_id').notNull(),
    seq: integer('seq').notNull(),
    sha: text('sha').notNull(),
    caption: text('caption').notNull(),
    description: text('description').notNull(),
  },
  (table) => [primaryKey({ columns: [table.lotId, table.seq] })],
)

export const lotPostage = sqliteTable(
  'lot_postage',
  {
    lotId: text('lot_id').notNull(),
    seq: integer('seq').notNull(),
    zone: text('zone').notNull(),
    countries: text('countries', { mode: 'json' }).$type<string[]>().notNull(),
    amountMinor: integer('amount_minor').notNull(),
  },
  (table) => [primaryKey({ columns: [table.lotId, table.seq] })],
)
