import { integer, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import type { PartKind } from '#stock/catalogue/part.contract'
import type { HowCounted } from '#stock/donors/count-words.rules'
import type { Aql, Level } from '#stock/shelf/sampling.rules'
import type { BatchState, Verdict } from '#stock/shelf/shelf.contract'

const flag = (name: string) => integer(name, { mode: 'boolean' }).notNull()

export const part = sqliteTable('part', {
  id: text('id').primaryKey(),
  kind: text('kind').$type<PartKind>().notNull(),
  name: text('name').notNull(),
  value: text('value').notNull().default(''),
  package: text('package').notNull().default(''),
  rating: text('rating').notNull().default(''),
  programmed: flag('programmed'),
  socketed: flag('socketed'),
  hardToFind: flag('hard_to_find'),
  imageSha256: text('image_sha256'),
  idcode: text('idcode'),
  sameness: text('sameness').notNull(),
  at: integer('at').notNull(),
})

export const batch = sqliteTable('batch', {
  id: text('id').primaryKey(),
  number: integer('number').notNull(),
  code: text('code').notNull(),
  partId: text('part_id').notNull(),
  giftId: text('gift_id'),
  boughtFrom: text('bought_from'),
  marking: text('marking').notNull().default(''),
  dateCode: text('date_code').notNull().default(''),
  quantity: integer('quantity').notNull(),
  bad: integer('bad').notNull().default(0),
  state: text('state').$type<BatchState>().notNull(),
  reason: text('reason'),
  at: integer('at').notNull(),
  place: text('place').notNull().default(''),
  howCounted: text('how_counted').$type<HowCounted>().notNull().default('counted'),
})

export const batchChange = sqliteTable('batch_change', {
  id: text('id').primaryKey(),
  batchId: text('batch_id').notNull(),
  what: text('what').$type<'quantity' | 'bad' | 'state'>().notNull(),
  was: text('was').notNull(),
  now: text('now').notNull(),
  reason: text('reason').notNull(),
  at: integer('at').notNull(),
  byPersonId: text('by_person_id').notNull(),
})

export const piece = sqliteTable('piece', {
  id: text('id').primaryKey(),
  number: integer('number').notNull(),
  tag: text('tag').notNull(),
  batchId: text('batch_id').notNull(),
  verdict: text('verdict').$type<Verdict>().notNull(),
  symptom: text('symptom').notNull().default(''),
  imageSha256: text('image_sha256'),
  idcode: text('idcode'),
  at: integer('at').notNull(),
})

export const inspection = sqliteTable('inspection', {
  id: text('id').primaryKey(),
  pieceId: text('piece_id').notNull(),
  seq: integer('seq').notNull(),
  reader: text('reader').notNull(),
  verdict: text('verdict').$type<Exclude<Verdict, 'not inspected'>>().notNull(),
  symptom: text('symptom').notNull(),
  imageSha256: text('image_sha256'),
  idcode: text('idcode'),
  at: integer('at').notNull(),
  byPersonId: text('by_person_id').notNull(),
  photoSha: text('photo_sha'),
})

export const samplingPlan = sqliteTable('sampling_plan', {
  batchId: text('batch_id').primaryKey(),
  level: text('level').$type<Level>().notNull(),
  aql: text('aql').$type<Aql>().notNull(),
  sample: integer('sample').notNull(),
  accept: integer('accept').notNull(),
  at: integer('at').notNull(),
  byPersonId: text('by_person_id').notNull(),
})

export const batchTest = sqliteTable('batch_test', {
  id: text('id').primaryKey(),
  batchId: text('batch_id').notNull(),
  seq: integer('seq').notNull(),
  tested: integer('tested').notNull(),
  bad: integer('bad').notNull(),
  reader: text('reader').notNull(),
  symptom: text('symptom').notNull(),
  photoSha: text('photo_sha'),
  at: integer('at').notNull(),
  byPersonId: text('by_person_id').notNull(),
  figures: text('figures', { mode: 'json' }).$type<number[]>().notNull().default([]),
  unit: text('unit').notNull().default(''),
})

export const batchWaiver = sqliteTable('batch_waiver', {
  batchId: text('batch_id').primaryKey(),
  name: text('name').notNull(),
  reason: text('reason').notNull(),
  at: integer('at').notNull(),
  byPersonId: text('by_person_id').notNull(),
})

export const quarantineNotice = sqliteTable('quarantine_notice', {
  id: text('id').primaryKey(),
  batchId: text('batch_id').notNull(),
  about: text('about').$type<'quarantined' | 'lifted'>().notNull(),
  personId: text('person_id'),
  donorId: text('donor_id'),
  unitId: text('unit_id'),
  reason: text('reason').notNull(),
  at: integer('at').notNull(),
  toldAt: integer('told_at'),
  toldHow: text('told_how').$type<'letter' | 'by hand'>(),
  toldByPersonId: text('told_by_person_id'),
})

export const batchWords = sqliteTable('batch_words', {
  batchId: text('batch_id').primaryKey(),
  number: integer('number').notNull(),
  words: text('words').notNull(),
})
