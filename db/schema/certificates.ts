import { integer, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import { person } from './people'

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
})
