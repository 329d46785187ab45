import { integer, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import type { Currency } from '#kernel/money'
import type { RecordingKind } from '#runtime/disk/recording-kinds.rules'
import { person } from './people'

export const campaign = sqliteTable('campaign', {
  id: text('id').primaryKey(),
  name: text('name').notNull(),
  causeName: text('cause_name').notNull(),
  causeRegistration: text('cause_registration').notNull(),
  causeShareBp: integer('cause_share_bp').notNull(),
  sellerName: text('seller_name').notNull(),
  sellerAddress: text('seller_address').notNull(),
  sellerKind: text('seller_kind').$type<'' | 'private' | 'trader' | 'charity'>().notNull(),
  currency: text('currency').$type<Currency>().notNull(),
  zone: text('zone').notNull(),
  streamOpensAt: integer('stream_opens_at').notNull(),
  streamClosesAt: integer('stream_closes_at').notNull(),
  targetMinor: integer('target_minor').notNull(),
  howToPay: text('how_to_pay').notNull(),
  cancelWords: text('cancel_words').notNull(),
  partsAddress: text('parts_address').notNull(),
  isDemo: integer('is_demo', { mode: 'boolean' }).notNull(),
  lateWindowSeconds: integer('late_window_seconds').notNull().default(120),
  lateAddsSeconds: integer('late_adds_seconds').notNull().default(120),
  streamUrl: text('stream_url').notNull().default(''),
  playerUrl: text('player_url').notNull().default(''),
  number: integer('number').notNull().default(1),
  slug: text('slug').notNull().default(''),
  begunAt: integer('begun_at'),
  endedAt: integer('ended_at'),
})

/** Days on which a campaign streams after its first, which stands in its own columns. */
export const streamDay = sqliteTable('stream_day', {
  id: text('id').primaryKey(),
  campaignId: text('campaign_id').notNull(),
  opensAt: integer('opens_at').notNull(),
  closesAt: integer('closes_at').notNull(),
})

export const recording = sqliteTable('recording', {
  sha: text('sha').primaryKey(),
  kind: text('kind').$type<RecordingKind>().notNull(),
  bytes: integer('bytes').notNull(),
  at: integer('at').notNull(),
  byPersonId: text('by_person_id').references(() => person.id),
})

export const photograph = sqliteTable('photograph', {
  sha: text('sha').primaryKey(),
  width: integer('width').notNull(),
  height: integer('height').notNull(),
  at: integer('at').notNull(),
  byPersonId: text('by_person_id').references(() => person.id),
})
