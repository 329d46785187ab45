import { integer, real, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import type { DecisionRule } from '#bench/designs/design.contract'
import type { SoakNote } from '#bench/units/soak.rules'
import type { InstrumentThen } from '#bench/units/units.contract'
import type { Verdict } from '#bench/units/verdict.rules'
import { photograph } from './campaign'
import { design } from './designs'
import { batch, piece } from './parts'
import { person } from './people'

const by = (column = 'by_person_id') => text(column).references(() => person.id)
const unitId = () =>
  text('unit_id')
    .notNull()
    .references(() => unit.id)
const names = (column: string) => text(column, { mode: 'json' }).$type<string[]>().notNull()

export const run = sqliteTable('run', {
  id: text('id').primaryKey(),
  designId: text('design_id')
    .notNull()
    .references(() => design.id),
  tagPrefix: text('tag_prefix').notNull(),
  at: integer('at').notNull(),
})

export const unit = sqliteTable('unit', {
  id: text('id').primaryKey(),
  tag: text('tag').notNull(),
  runId: text('run_id')
    .notNull()
    .references(() => run.id),
  number: integer('number').notNull(),
  at: integer('at').notNull(),
  setAsideAt: integer('set_aside_at'),
  setAsideReason: text('set_aside_reason'),
  designId: text('design_id').references(() => design.id),
})

export const unitRevision = sqliteTable('unit_revision', {
  id: text('id').primaryKey(),
  unitId: unitId(),
  seq: integer('seq').notNull(),
  at: integer('at').notNull(),
  byPersonId: by().notNull(),
  fromDesignId: text('from_design_id')
    .notNull()
    .references(() => design.id),
  toDesignId: text('to_design_id')
    .notNull()
    .references(() => design.id),
  retakes: text('retakes', { mode: 'json' }).$type<Record<string, string>>().notNull(),
})

export const instrument = sqliteTable('instrument', {
  id: text('id').primaryKey(),
  name: text('name').notNull(),
  accuracy: text('accuracy').notNull(),
  checkedAt: integer('checked_at').notNull(),
  dueAt: integer('due_at').notNull(),
  checkedBy: text('checked_by').notNull().default(''),
  checkedAgainst: text('checked_against').notNull().default(''),
})

export const rework = sqliteTable('rework', {
  id: text('id').primaryKey(),
  unitId: unitId(),
  seq: integer('seq').notNull(),
  at: integer('at').notNull(),
  byPersonId: by().notNull(),
  failedCheck: text('failed_check'),
  fault: text('fault').notNull(),
  changed: text('changed').notNull(),
  designators: names('designators'),
  blocks: names('blocks'),
  iron: integer('iron', { mode: 'boolean' }).notNull(),
  isLateFitting: integer('is_late_fitting', { mode: 'boolean' }).notNull(),
})

export const fitting = sqliteTable('fitting', {
  id: text('id').primaryKey(),
  unitId: unitId(),
  designator: text('designator').notNull(),
  batchId: text('batch_id')
    .notNull()
    .references(() => batch.id),
  pieceId: text('piece_id').references(() => piece.id),
  iron: integer('iron', { mode: 'boolean' }).notNull(),
  kind: text('kind').$type<'first' | 'late' | 'rework' | 'correction'>().notNull(),
  at: integer('at').notNull(),
  byPersonId: by().notNull(),
  reworkId: text('rework_id').references(() => rework.id),
  outAt: integer('out_at'),
  outByPersonId: by('out_by_person_id'),
  outReason: text('out_reason'),
  outReworkId: text('out_rework_id').references(() => rework.id),
})

export const reading = sqliteTable('reading', {
  id: text('id').primaryKey(),
  unitId: unitId(),
  seq: integer('seq').notNull(),
  checkKey: text('check_key').notNull(),
  at: integer('at').notNull(),
  byPersonId: by().notNull(),
  entry: text('entry').notNull(),
  value: real('value').notNull(),
  unit: text('unit').notNull(),
  nominal: real('nominal'),
  lower: real('lower'),
  upper: real('upper'),
  decimals: integer('decimals').notNull(),
  rule: text('rule').$type<DecisionRule>().notNull(),
  standardUncertainty: real('standard_uncertainty'),
  expandedUncertainty: real('expanded_uncertainty'),
  conformity: real('conformity'),
  verdict: text('verdict').$type<Verdict>().notNull(),
  instrumentId: text('instrument_id').references(() => instrument.id),
  instrumentWords: text('instrument_words'),
  instrumentOverdue: integer('instrument_overdue', { mode: 'boolean' }).notNull(),
  ambient: text('ambient').notNull(),
  note: text('note').notNull(),
  fileSha: text('file_sha'),
  photoSha: text('photo_sha').references(() => photograph.sha),
  hours: real('hours'),
  starts: integer('starts'),
  correction: text('correction'),
  batches: text('batches', { mode: 'json' }).$type<Record<string, string>>().notNull(),
  revision: text('revision').notNull(),
  whileSearching: integer('while_searching', { mode: 'boolean' }).notNull().default(false),
  departure: text('departure').notNull().default(''),
  further: text('further').notNull().default(''),
  instrumentThen: text('instrument_then', { mode: 'json' }).$type<InstrumentThen>(),
})

export const soakRun = sqliteTable('soak_run', {
  id: text('id').primaryKey(),
  unitId: unitId(),
  checkKey: text('check_key').notNull(),
  startedAt: integer('started_at').notNull(),
  byPersonId: by().notNull(),
  coldStarts: text('cold_starts', { mode: 'json' }).$type<number[]>().notNull(),
  endedAt: integer('ended_at'),
  endedWhy: text('ended_why'),
  notes: text('notes', { mode: 'json' }).$type<SoakNote[]>().notNull().default([]),
})

export const holdRelease = sqliteTable('hold_release', {
  id: text('id').primaryKey(),
  unitId: unitId(),
  seq: integer('seq').notNull(),
  checkKey: text('check_key').notNull(),
  at: integer('at').notNull(),
  byPersonId: by().notNull(),
  name: text('name').notNull(),
})
