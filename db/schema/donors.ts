import { integer, primaryKey, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import type { HowCounted } from '#stock/donors/count-words.rules'
import type { Anonymity, ConsentUse, GiftChangeWhat, GiftKind, GiftState } from '#stock/donors/donor.contract'

const flag = (name: string) => integer(name, { mode: 'boolean' }).notNull()

export const donor = sqliteTable('donor', {
  id: text('id').primaryKey(),
  name: text('name').notNull(),
  creditName: text('credit_name').notNull(),
  sayIt: text('say_it').notNull().default(''),
  contact: text('contact').notNull().default(''),
  anonymity: text('anonymity').$type<Anonymity>().notNull(),
  approved: flag('approved'),
  at: integer('at').notNull(),
  mergedIntoId: text('merged_into_id'),
  mergedAt: integer('merged_at'),
  isStandIn: flag('is_stand_in').default(false),
  askedCreditName: text('asked_credit_name'),
  askedSayIt: text('asked_say_it'),
})

export const consent = sqliteTable('consent', {
  id: text('id').primaryKey(),
  donorId: text('donor_id').notNull(),
  use: text('use').$type<ConsentUse>().notNull(),
  given: flag('given'),
  at: integer('at').notNull(),
  byPersonId: text('by_person_id'),
})

export const parcel = sqliteTable('parcel', {
  id: text('id').primaryKey(),
  donorId: text('donor_id').notNull(),
  arrivedAt: integer('arrived_at').notNull(),
  photoSha: text('photo_sha'),
  note: text('note').notNull().default(''),
  byPersonId: text('by_person_id').notNull(),
})

export const gift = sqliteTable('gift', {
  id: text('id').primaryKey(),
  donorId: text('donor_id').notNull(),
  kind: text('kind').$type<GiftKind>().notNull(),
  partId: text('part_id'),
  words: text('words').notNull().default(''),
  quantity: integer('quantity').notNull(),
  minutes: integer('minutes'),
  amountMinor: integer('amount_minor'),
  onlyForUnitId: text('only_for_unit_id'),
  onlyForDesignId: text('only_for_design_id'),
  state: text('state').$type<GiftState>().notNull(),
  parcelId: text('parcel_id'),
  promisedAt: integer('promised_at'),
  arrivedAt: integer('arrived_at'),
  splitFromId: text('split_from_id'),
  approved: flag('approved'),
  thankedAt: integer('thanked_at'),
  at: integer('at').notNull(),
  byPersonId: text('by_person_id'),
  howCounted: text('how_counted').$type<HowCounted>().notNull(),
})

export const giftChange = sqliteTable('gift_change', {
  id: text('id').primaryKey(),
  giftId: text('gift_id').notNull(),
  what: text('what').$type<GiftChangeWhat>().notNull(),
  was: text('was').notNull(),
  now: text('now').notNull(),
  reason: text('reason').notNull().default(''),
  at: integer('at').notNull(),
  byPersonId: text('by_person_id'),
})

export const donorLink = sqliteTable('donor_link', {
  id: text('id').primaryKey(),
  donorId: text('donor_id').notNull(),
  tokenHash: text('token_hash').notNull(),
  madeAt: integer('made_at').notNull(),
  byPersonId: text('by_person_id'),
  closedAt: integer('closed_at'),
})

export const thanksTold = sqliteTable(
  'thanks_told',
  {
    giftId: text('gift_id').notNull(),
    lotId: text('lot_id').notNull(),
    at: integer('at').notNull(),
    byPersonId: text('by_person_id').notNull(),
    toldMinor: integer('told_minor'),
  },
  (table) => [primaryKey({ columns: [table.giftId, table.lotId] })],
)
