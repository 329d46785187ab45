import { integer, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import type { DayWishKind } from '#sale/planning/question.rules'
import type { ItemKind } from '#sale/programme/programme.rules'

export const programmeItem = sqliteTable('programme_item', {
  id: text('id').primaryKey(),
  kind: text('kind').$type<ItemKind>().notNull(),
  lotId: text('lot_id').unique(),
  title: text('title').notNull(),
  note: text('note').notNull().default(''),
  startsAt: integer('starts_at').notNull(),
  endsAt: integer('ends_at').notNull(),
  civilStart: text('civil_start').notNull(),
  zone: text('zone').notNull(),
  announcedAt: integer('announced_at'),
  sequence: integer('sequence').notNull().default(0),
  changedAt: integer('changed_at').notNull(),
  keepsTime: integer('keeps_time', { mode: 'boolean' }).notNull().default(false),
  campaignNumber: integer('campaign_number').notNull().default(1),
})

export const audienceZone = sqliteTable('audience_zone', {
  zone: text('zone').primaryKey(),
  shareBp: integer('share_bp').notNull(),
  daysOff: text('days_off').notNull().default(''),
})

export const dayWish = sqliteTable('day_wish', {
  id: text('id').primaryKey(),
  lotId: text('lot_id').notNull(),
  kind: text('kind').$type<DayWishKind>().notNull(),
  guestItemId: text('guest_item_id'),
  at: integer('at'),
  isPin: integer('is_pin', { mode: 'boolean' }).notNull(),
  weightMinor: integer('weight_minor').notNull(),
  madeAt: integer('made_at').notNull(),
})
