import { integer, primaryKey, sqliteTable, text } from 'drizzle-orm/sqlite-core'

export const keepingTerms = sqliteTable('keeping_terms', {
  id: integer('id').primaryKey(),
  contactDays: integer('contact_days').notNull(),
})

export const packMade = sqliteTable('pack_made', {
  id: text('id').primaryKey(),
  fileName: text('file_name').notNull(),
  at: integer('at').notNull(),
  byPersonId: text('by_person_id'),
  bytes: integer('bytes').notNull(),
  sha256: text('sha256').notNull(),
  withContacts: integer('with_contacts', { mode: 'boolean' }).notNull(),
  isWhole: integer('is_whole', { mode: 'boolean' }).notNull(),
  lastEntry: integer('last_entry').notNull(),
})

export const contactDeletion = sqliteTable('contact_deletion', {
  id: text('id').primaryKey(),
  at: integer('at').notNull(),
  byPersonId: text('by_person_id'),
  counts: text('counts', { mode: 'json' }).$type<Record<string, number>>().notNull(),
  campaignNumber: integer('campaign_number').notNull().default(1),
})

export const lastLetter = sqliteTable(
  'last_letter',
  {
    donorId: text('donor_id').notNull(),
    campaignNumber: integer('campaign_number').notNull().default(1),
    at: integer('at').notNull(),
    byPersonId: text('by_person_id'),
  },
  (table) => [primaryKey({ columns: [table.donorId, table.campaignNumber] })],
)

export const keepQuestion = sqliteTable('keep_question', {
  id: text('id').primaryKey(),
  campaignNumber: integer('campaign_number').notNull(),
  donorId: text('donor_id'),
  personId: text('person_id'),
  tokenHash: text('token_hash').notNull(),
  askedAt: integer('asked_at').notNull(),
  answerBy: integer('answer_by').notNull(),
  answer: text('answer').$type<'keep' | 'forget'>(),
  answeredAt: integer('answered_at'),
  forgottenAt: integer('forgotten_at'),
})
