import { integer, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import type { Role } from '#kernel/role'
import type { ChangeKind } from '#people/changes/changes.contract'

export const changeRecord = sqliteTable('change_record', {
  seq: integer('seq').primaryKey({ autoIncrement: true }),
  at: integer('at').notNull(),
  kind: text('kind').$type<ChangeKind>().notNull(),
  byPersonId: text('by_person_id'),
  byName: text('by_name').notNull(),
  byRole: text('by_role').$type<Role>(),
  what: text('what').notNull(),
  before: text('before').notNull(),
  after: text('after').notNull(),
})
