import { integer, primaryKey, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import type { Cells, ProblemEnd } from '#money/sending/sending.contract'

export const sendingTerms = sqliteTable('sending_terms', {
  id: integer('id').primaryKey(),
  homeCountry: text('home_country').notNull(),
  volumetricDivisor: integer('volumetric_divisor').notNull(),
  answerHours: integer('answer_hours').notNull(),
  addressesKeptDays: integer('addresses_kept_days').notNull(),
})

export const postageBand = sqliteTable(
  'postage_band',
  {
    campaignNumber: integer('campaign_number').notNull().default(1),
    seq: integer('seq').notNull(),
    zone: text('zone').notNull(),
    countries: text('countries', { mode: 'json' }).$type<string[]>().notNull(),
    upToGrams: integer('up_to_grams').notNull(),
    amountMinor: integer('amount_minor').notNull(),
  },
  (table) => [primaryKey({ columns: [table.campaignNumber, table.seq] })],
)

export const deliveryAddress = sqliteTable('delivery_address', {
  lotId: text('lot_id').primaryKey(),
  personId: text('person_id').notNull(),
  name: text('name').notNull(),
  street: text('street').notNull(),
  place: text('place').notNull(),
  postcode: text('postcode').notNull(),
  country: text('country').notNull(),
  telephone: text('telephone').notNull(),
  at: integer('at').notNull(),
  region: text('region').notNull().default(''),
})

export const parcelWish = sqliteTable('parcel_wish', {
  personId: text('person_id').primaryKey(),
  wants: text('wants').$type<'one' | 'several'>().notNull(),
  at: integer('at').notNull(),
})

export const consignment = sqliteTable('consignment', {
  lotId: text('lot_id').primaryKey(),
  weightGrams: integer('weight_grams'),
  lengthMm: integer('length_mm'),
  widthMm: integer('width_mm'),
  heightMm: integer('height_mm'),
  cells: text('cells').$type<Cells>().notNull().default('unsaid'),
  milliwattHours: integer('milliwatt_hours'),
  mains: text('mains').$type<'unsaid' | 'no' | 'yes'>().notNull().default('unsaid'),
  goods: text('goods').notNull().default(''),
  origin: text('origin').notNull().default(''),
  tariffHint: text('tariff_hint').notNull().default(''),
  carrier: text('carrier').notNull().default(''),
  tracking: text('tracking').notNull().default(''),
  trackingUrl: text('tracking_url').notNull().default(''),
  sentAt: integer('sent_at'),
  sentByPersonId: text('sent_by_person_id'),
  arrivedAt: integer('arrived_at'),
  arrivalSaidBy: text('arrival_said_by').$type<'buyer' | 'staff'>(),
  parcel: text('parcel'),
  netGrams: integer('net_grams'),
})

export const packedItem = sqliteTable(
  'packed_item',
  {
    lotId: text('lot_id').notNull(),
    item: text('item').notNull(),
    at: integer('at').notNull(),
    byPersonId: text('by_person_id'),
  },
  (table) => [primaryKey({ columns: [table.lotId, table.item] })],
)

export const packingPhotograph = sqliteTable(
  'packing_photograph',
  {
    lotId: text('lot_id').notNull(),
    seq: integer('seq').notNull(),
    item: text('item').notNull(),
    sha: text('sha').notNull(),
    at: integer('at').notNull(),
    byPersonId: text('by_person_id'),
  },
  (table) => [primaryKey({ columns: [table.lotId, table.seq] })],
)

export const problem = sqliteTable('problem', {
  id: text('id').primaryKey(),
  lotId: text('lot_id').notNull(),
  personId: text('person_id').notNull(),
  openedAt: integer('opened_at').notNull(),
  answerDueAt: integer('answer_due_at').notNull(),
  answeredAt: integer('answered_at'),
  endedAt: integer('ended_at'),
  endedAs: text('ended_as').$type<ProblemEnd>(),
  endedWords: text('ended_words').notNull().default(''),
  refundMinor: integer('refund_minor'),
})

export const problemNote = sqliteTable(
  'problem_note',
  {
    problemId: text('problem_id').notNull(),
    seq: integer('seq').notNull(),
    at: integer('at').notNull(),
    side: text('side').$type<'buyer' | 'staff'>().notNull(),
    byPersonId: text('by_person_id'),
    words: text('words').notNull(),
    photoSha: text('photo_sha'),
  },
  (table) => [primaryKey({ columns: [table.problemId, table.seq] })],
)
