import { integer, primaryKey, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import type { DisclosureKind } from '#sale/bidders/disclosures.contract'

export const disclosure = sqliteTable('disclosure', {
  id: text('id').primaryKey(),
  personId: text('person_id').notNull(),
  lotId: text('lot_id'),
  kind: text('kind').$type<DisclosureKind>().notNull(),
  words: text('words').notNull().default(''),
  at: integer('at').notNull(),
})

export const bidTrace = sqliteTable(
  'bid_trace',
  {
    personId: text('person_id').notNull(),
    lotId: text('lot_id').notNull(),
    kind: text('kind').$type<'address' | 'device'>().notNull(),
    hash: text('hash').notNull(),
    at: integer('at').notNull(),
  },
  (table) => [primaryKey({ columns: [table.personId, table.lotId, table.kind, table.hash] })],
)

export const retractionRequest = sqliteTable(
  'retraction_request',
  {
    lotId: text('lot_id').notNull(),
    personId: text('person_id').notNull(),
    reason: text('reason').notNull(),
    at: integer('at').notNull(),
  },
  (table) => [primaryKey({ columns: [table.lotId, table.personId] })],
)

export const summedUp = sqliteTable('summed_up', {
  lotId: text('lot_id').primaryKey(),
  at: integer('at').notNull(),
})

export const dayLetter = sqliteTable(
  'day_letter',
  {
    personId: text('person_id').notNull(),
    at: integer('at').notNull(),
    day: text('day').notNull(),
    /** Ids of the lots on which they bid. */
    lots: text('lots', { mode: 'json' }).$type<readonly string[]>().notNull(),
    untold: text('untold', { mode: 'json' }).$type<readonly string[]>().notNull(),
  },
  (table) => [primaryKey({ columns: [table.personId, table.at] })],
)

export const reminder = sqliteTable(
  'reminder',
  {
    lotId: text('lot_id').notNull(),
    personId: text('person_id').notNull(),
    at: integer('at').notNull(),
    sentAt: integer('sent_at'),
  },
  (table) => [primaryKey({ columns: [table.lotId, table.personId] })],
)

export const notice = sqliteTable('notice', {
  id: text('id').primaryKey(),
  personId: text('person_id').notNull(),
  lotId: text('lot_id').notNull(),
  kind: text('kind', {
    enum: [
      'outbid',
      'bound-again',
      'voided',
      'won',
      'lost',
      'unsold',
      'withdrawn',
      'corrected',
      'held',
      'goes-on',
      'moved',
      'woken',
      'lapsed',
      'closes-soon',
      'fell-through',
      'stands-again',
    ],
  }).notNull(),
  at: integer('at').notNull(),
  words: text('words').notNull().default(''),
  sealedWords: text('sealed_words'),
  letterId: text('letter_id'),
  gatheredAt: integer('gathered_at'),
  pushedAt: integer('pushed_at'),
})

export const pushDevice = sqliteTable('push_device', {
  id: text('id').primaryKey(),
  personId: text('person_id').notNull(),
  endpoint: text('endpoint').notNull(),
  p256dh: text('p256dh').notNull(),
  auth: text('auth').notNull(),
  key: text('key').notNull(),
  name: text('name').notNull(),
  at: integer('at').notNull(),
  toldAt: integer('told_at'),
})

export const pushWish = sqliteTable(
  'push_wish',
  {
    personId: text('person_id').notNull(),
    of: text('of').notNull(),
    at: integer('at').notNull(),
  },
  (table) => [primaryKey({ columns: [table.personId, table.of] })],
)
