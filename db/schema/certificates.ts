import { integer, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import type { HomeReading } from '#bench/certificates/certificates.contract'
import { person } from './people'
import { unit } from './units'

export const certificate = sqliteTable('certificate', {
  id: text('id').primaryKey(),
  serial: text('serial').notNull(),
  unitId: text('unit_id').notNull(),
  issuedAt: integer('issued_at').notNull(),
  byPersonId: text('by_person_id')
    .notNull()
    .references(() => person.id),
  kid: text('kid').notNull(),
  payload: text('payload').notNull(),
  protected: text('protected').notNull(),
  signature: text('signature').notNull(),
  supersededBy: text('superseded_by'),
  withdrawnAt: integer('withdrawn_at'),
  withdrawnReason: text('withdrawn_reason'),
  withdrawnChecks: text('withdrawn_checks', { mode: 'json' }).$type<string[]>(),
  withdrawnSeq: integer('withdrawn_seq'),
})

export const homeReport = sqliteTable('home_report', {
  id: text('id').primaryKey(),
  unitId: text('unit_id')
    .notNull()
    .references(() => unit.id),
  serial: text('serial').references(() => certificate.serial),
  at: integer('at').notNull(),
  meter: text('meter').notNull(),
  readings: text('readings', { mode: 'json' }).$type<HomeReading[]>().notNull(),
  note: text('note').notNull(),
})
