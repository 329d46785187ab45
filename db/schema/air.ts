import { integer, sqliteTable, text } from 'drizzle-orm/sqlite-core'

export const overlayKey = sqliteTable('overlay_key', {
  id: integer('id').primaryKey(),
  digest: text('digest').notNull(),
  madeAt: integer('made_at').notNull(),
  byPersonId: text('by_person_id').notNull(),
})
