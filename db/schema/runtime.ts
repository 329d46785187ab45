import { integer, real, sqliteTable, text } from 'drizzle-orm/sqlite-core'

export const fact = sqliteTable('fact', {
  seq: integer('seq').primaryKey({ autoIncrement: true }),
  at: integer('at').notNull(),
  kind: text('kind').notNull(),
  subject: text('subject').notNull(),
  body: text('body', { mode: 'json' }).$type<Record<string, unknown>>().notNull(),
})

export const letter = sqliteTable('letter', {
  id: text('id').primaryKey(),
  at: integer('at').notNull(),
  recipient: text('recipient').notNull(),
  subject: text('subject').notNull(),
  body: text('body').notNull(),
  sentAt: integer('sent_at'),
  tries: integer('tries').notNull().default(0),
  nextTryAt: integer('next_try_at').notNull(),
  lastError: text('last_error'),
  sealedCode: text('sealed_code'),
  sealedWords: text('sealed_words'),
  attachedName: text('attached_name'),
  sealedAttachment: text('sealed_attachment'),
  withdrawnAt: integer('withdrawn_at'),
})

export const request = sqliteTable('request', {
  key: text('key').primaryKey(),
  digest: text('digest').notNull(),
  /** Sealed, as JSON text. */
  answer: text('answer', { mode: 'json' }).$type<string>().notNull(),
  at: integer('at').notNull(),
})

/** By which key maxima and reserves are sealed; its digest opens nothing. */
export const sealedBy = sqliteTable('sealed_by', {
  id: integer('id').primaryKey(),
  keyDigest: text('key_digest').notNull(),
})

export const alive = sqliteTable('alive', {
  id: integer('id').primaryKey(),
  at: integer('at').notNull(),
  upSeconds: real('up_seconds'),
  upStart: text('up_start'),
})

export const publishedGroup = sqliteTable('published_group', {
  id: integer('id').primaryKey(),
  stream: text('stream').notNull(),
  number: integer('number').notNull(),
  messageId: text('message_id').notNull(),
  aloneSince: integer('alone_since'),
  overtakenAt: integer('overtaken_at'),
})

export const changedRow = sqliteTable('changed_row', {
  n: integer('n').primaryKey(),
  body: text('body').notNull(),
})

export const unconfirmedMessage = sqliteTable('unconfirmed_message', {
  number: integer('number').primaryKey(),
  messageId: text('message_id').notNull(),
  part: text('part').notNull(),
  body: text('body').notNull(),
})
