import { integer, primaryKey, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import type { EvidenceEnding, EvidenceKind } from '#bench/units/evidence.contract'
import type { Sweep } from '#bench/units/sweep.rules'
import { person } from './people'
import { reading, unit } from './units'

export const keptFile = sqliteTable(
  'kept_file',
  {
    sha: text('sha').notNull(),
    kind: text('kind').$type<'csv' | 'bin'>().notNull(),
    bytes: integer('bytes').notNull(),
    sweep: text('sweep', { mode: 'json' }).$type<Sweep>(),
    at: integer('at').notNull(),
    byPersonId: text('by_person_id').references(() => person.id),
  },
  (table) => [primaryKey({ columns: [table.sha, table.kind] })],
)

export const evidence = sqliteTable('evidence', {
  id: text('id').primaryKey(),
  unitId: text('unit_id')
    .notNull()
    .references(() => unit.id),
  readingId: text('reading_id').references(() => reading.id),
  checkKey: text('check_key'),
  kind: text('kind').$type<EvidenceKind>().notNull(),
  sha: text('sha').notNull(),
  ending: text('ending').$type<EvidenceEnding>().notNull(),
  name: text('name').notNull(),
  words: text('words').notNull(),
  at: integer('at').notNull(),
  byPersonId: text('by_person_id')
    .notNull()
    .references(() => person.id),
  shownAt: integer('shown_at'),
  takenAwayAt: integer('taken_away_at'),
})
