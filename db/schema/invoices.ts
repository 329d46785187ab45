import { integer, primaryKey, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import type { DocumentContent, DocumentKind } from '#money/documents/documents.contract'
import type { OfferTerms, TaxScheme } from '#money/invoices/invoices.contract'

export const paymentTerms = sqliteTable('payment_terms', {
  id: integer('id').primaryKey(),
  accountName: text('account_name').notNull(),
  iban: text('iban').notNull(),
  bic: text('bic').notNull(),
  dueDays: integer('due_days').notNull(),
  reminderDays: text('reminder_days', { mode: 'json' }).$type<number[]>().notNull(),
  remindersAlone: integer('reminders_alone', { mode: 'boolean' }).notNull(),
  offerAfterDays: integer('offer_after_days').notNull(),
  offerOpenDays: integer('offer_open_days').notNull(),
  taxScheme: text('tax_scheme').$type<TaxScheme>().notNull().default('none'),
  taxRateBp: integer('tax_rate_bp').notNull().default(0),
  taxNumber: text('tax_number').notNull().default(''),
  taxWords: text('tax_words').notNull().default(''),
})

export const paymentReminder = sqliteTable(
  'payment_reminder',
  {
    lotId: text('lot_id').notNull(),
    personId: text('person_id').notNull(),
    step: integer('step').notNull(),
    at: integer('at').notNull(),
    byPersonId: text('by_person_id'),
    subject: text('subject').notNull(),
    body: text('body').notNull(),
    letterId: text('letter_id'),
    owedMinor: integer('owed_minor'),
  },
  (table) => [primaryKey({ columns: [table.lotId, table.personId, table.step] })],
)

export const secondOffer = sqliteTable('second_offer', {
  id: text('id').primaryKey(),
  lotId: text('lot_id').notNull(),
  personId: text('person_id').notNull(),
  priceMinor: integer('price_minor').notNull(),
  postageMinor: integer('postage_minor').notNull(),
  terms: text('terms', { mode: 'json' }).$type<OfferTerms>().notNull(),
  madeAt: integer('made_at').notNull(),
  madeByPersonId: text('made_by_person_id'),
  openUntil: integer('open_until').notNull(),
  answer: text('answer').$type<'accepted' | 'declined' | 'taken back'>(),
  answeredAt: integer('answered_at'),
})

export const invoiceAccount = sqliteTable(
  'invoice_account',
  {
    lotId: text('lot_id').notNull(),
    personId: text('person_id').notNull(),
    accountName: text('account_name').notNull(),
    iban: text('iban').notNull(),
    bic: text('bic').notNull(),
  },
  (table) => [primaryKey({ columns: [table.lotId, table.personId] })],
)

export const invoiceDocument = sqliteTable('invoice_document', {
  number: integer('number').primaryKey(),
  kind: text('kind').$type<DocumentKind>().notNull(),
  about: integer('about'),
  personId: text('person_id').notNull(),
  issuedAt: integer('issued_at').notNull(),
  issuedByPersonId: text('issued_by_person_id'),
  content: text('content', { mode: 'json' }).$type<DocumentContent>().notNull(),
})

export const invoicePaper = sqliteTable('invoice_paper', {
  number: integer('number').primaryKey(),
  at: integer('at').notNull(),
  sha256: text('sha256').notNull(),
  pdf: text('pdf').notNull(),
})

export const jointReference = sqliteTable('joint_reference', {
  entryId: text('entry_id').primaryKey(),
  reference: text('reference').notNull(),
})
