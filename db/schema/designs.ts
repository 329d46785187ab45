import { integer, primaryKey, real, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import type { CheckKind, DecisionRule, FeedKind, StageKind } from '#bench/designs/design.contract'
import { part } from './parts'
import { person } from './people'

const names = (column: string) => text(column, { mode: 'json' }).$type<string[]>().notNull()

export const design = sqliteTable('design', {
  id: text('id').primaryKey(),
  key: text('key').notNull(),
  name: text('name').notNull(),
  revision: text('revision').notNull(),
  decisionRule: text('decision_rule').$type<DecisionRule>().notNull(),
  quirks: text('quirks').notNull(),
  cautions: text('cautions').notNull(),
  digest: text('digest').notNull(),
  at: integer('at').notNull(),
  byPersonId: text('by_person_id')
    .notNull()
    .references(() => person.id),
})

const designId = () =>
  text('design_id')
    .notNull()
    .references(() => design.id)
const partId = () =>
  text('part_id')
    .notNull()
    .references(() => part.id)

export const partsLine = sqliteTable('parts_line', {
  id: text('id').primaryKey(),
  designId: designId(),
  line: integer('line').notNull(),
  partId: partId(),
  quantity: integer('quantity').notNull(),
  fittedAfter: text('fitted_after'),
  notes: text('notes').notNull(),
})

export const lineSubstitute = sqliteTable(
  'line_substitute',
  {
    lineId: text('line_id')
      .notNull()
      .references(() => partsLine.id),
    partId: partId(),
    rank: integer('rank').notNull(),
    reason: text('reason').notNull(),
    at: integer('at').notNull(),
    byPersonId: text('by_person_id')
      .notNull()
      .references(() => person.id),
  },
  (table) => [primaryKey({ columns: [table.lineId, table.partId] })],
)

export const position = sqliteTable(
  'position',
  {
    designId: designId(),
    designator: text('designator').notNull(),
    partId: partId(),
    lineId: text('line_id')
      .notNull()
      .references(() => partsLine.id),
    blocks: names('blocks'),
    fittedAfter: text('fitted_after'),
  },
  (table) => [primaryKey({ columns: [table.designId, table.designator] })],
)

export const leftEmpty = sqliteTable(
  'left_empty',
  {
    designId: designId(),
    designator: text('designator').notNull(),
    line: integer('line').notNull(),
    partId: partId(),
    blocks: names('blocks'),
    notes: text('notes').notNull(),
  },
  (table) => [primaryKey({ columns: [table.designId, table.designator] })],
)

export const block = sqliteTable(
  'block',
  { designId: designId(), name: text('name').notNull(), seq: integer('seq').notNull() },
  (table) => [primaryKey({ columns: [table.designId, table.name] })],
)

export const feed = sqliteTable(
  'feed',
  {
    designId: designId(),
    fromBlock: text('from_block').notNull(),
    toBlock: text('to_block').notNull(),
    kind: text('kind').$type<FeedKind>().notNull(),
    point: text('point').notNull().default(''),
    expects: text('expects').notNull().default(''),
  },
  (table) => [primaryKey({ columns: [table.designId, table.fromBlock, table.toBlock, table.kind] })],
)

export const tellingReading = sqliteTable(
  'telling_reading',
  { designKey: text('design_key').notNull(), seq: integer('seq').notNull(), checkKey: text('check_key').notNull() },
  (table) => [primaryKey({ columns: [table.designKey, table.seq] })],
)

export const checkStep = sqliteTable(
  'check_step',
  {
    designId: designId(),
    key: text('key').notNull(),
    seq: integer('seq').notNull(),
    stage: text('stage').notNull(),
    hold: integer('hold', { mode: 'boolean' }).notNull(),
    title: text('title').notNull(),
    kind: text('kind').$type<CheckKind>().notNull(),
    nominal: real('nominal'),
    lower: real('lower'),
    upper: real('upper'),
    decimals: integer('decimals').notNull(),
    unit: text('unit').notNull(),
    after: names('after'),
    exercises: names('exercises'),
    powered: integer('powered', { mode: 'boolean' }).notNull(),
    minutes: real('minutes').notNull(),
    hours: real('hours'),
    starts: integer('starts'),
    plain: text('plain').notNull(),
    caution: text('caution').notNull(),
    onFailure: text('on_failure').notNull(),
    expects: text('expects'),
    lowerAs: text('lower_as'),
    upperAs: text('upper_as'),
    stageKind: text('stage_kind').$type<StageKind>().notNull(),
    gatesPower: integer('gates_power', { mode: 'boolean' }).notNull(),
    fourEyes: integer('four_eyes', { mode: 'boolean' }).notNull(),
    frequency: real('frequency'),
    homeTouch: text('home_touch').notNull(),
    homeNeeds: text('home_needs').notNull(),
    homeSigns: text('home_signs').notNull(),
  },
  (table) => [primaryKey({ columns: [table.designId, table.key] })],
)

export const placement = sqliteTable(
  'placement',
  {
    designKey: text('design_key').notNull(),
    designator: text('designator').notNull(),
    xUm: integer('x_um').notNull(),
    yUm: integer('y_um').notNull(),
    side: text('side').$type<'top' | 'bottom'>().notNull(),
    rotation: real('rotation').notNull(),
  },
  (table) => [primaryKey({ columns: [table.designKey, table.designator] })],
)
