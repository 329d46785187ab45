import { and, asc, eq } from 'drizzle-orm'
import type { Db } from '#db/open'
import { preparedFor } from '#db/prepared'
import { block, checkStep, design, feed, leftEmpty, partsLine, position, run, unit } from '#db/schema/index'
import type { Check, Feed, Position } from './design.contract'

export type DesignRow = typeof design.$inferSelect
export type PartsLineRow = typeof partsLine.$inferSelect
type PositionRow = typeof position.$inferSelect
export type LeftEmptyRow = typeof leftEmpty.$inferSelect

export const findDesignRow = (db: Db, id: string): DesignRow | undefined => db.select().from(design).where(eq(design.id, id)).get()

export const findRevision = (db: Db, key: string, revision: string): DesignRow | undefined =>
  db
    .select()
    .from(design)
    .where(and(eq(design.key, key), eq(design.revision, revision)))
    .get()

/** True when a run was begun with this revision, or a unit came to it later: both refer to it by its id. */
export const isBuiltTo = (db: Db, id: string): boolean =>
  db.select({ id: run.id }).from(run).where(eq(run.designId, id)).get() !== undefined ||
  db.select({ id: unit.id }).from(unit).where(eq(unit.designId, id)).get() !== undefined

export const allDesignRows = (db: Db): DesignRow[] => db.select().from(design).orderBy(asc(design.name), asc(design.at)).all()

export const insertDesign = (db: Db, row: DesignRow): void => void db.insert(design).values(row).run()

export const updateDesign = (db: Db, row: DesignRow): void => void db.update(design).set(row).where(eq(design.id, row.id)).run()

/** Takes out everything that the lists of a design said, before they are said anew. */
export function clearLists(db: Db, designId: string): void {
  for (const table of [position, leftEmpty, partsLine, feed, block, checkStep]) db.delete(table).where(eq(table.designId, designId)).run()
}

export interface ListRows {
  lines: PartsLineRow[]
  positions: PositionRow[]
  leftEmpty: LeftEmptyRow[]
  blocks: string[]
  feeds: Feed[]
  checks: Check[]
}

export function insertLists(db: Db, designId: string, { lines, positions, leftEmpty: empty, blocks, feeds, checks }: ListRows): void {
  insertMany(db, lines, positions, empty)
  for (const [index, name] of blocks.entries())
    db.insert(block)
      .values({ designId, name, seq: index + 1 })
      .run()
  for (const { from, to, kind, point = '', expects = '' } of feeds)
    db.insert(feed).values({ designId, fromBlock: from, toBlock: to, kind, point, expects }).run()
  for (const { isHold, isPowered, soakHours, coldStarts, limitsAs, atHome, ...rest } of checks)
    db.insert(checkStep)
      .values({
        designId,
        ...rest,
        hold: isHold,
        powered: isPowered,
        hours: soakHours,
        starts: coldStarts,
        lowerAs: limitsAs?.lower ?? null,
        upperAs: limitsAs?.upper ?? null,
        homeTouch: atHome?.touch ?? '',
        homeNeeds: atHome?.needs ?? '',
        homeSigns: atHome?.signs ?? '',
      })
      .run()
}

const many = preparedFor(({ $client }) => ({
  lines: $client.prepare<[string], PartsLineRow>(
    `SELECT id, design_id AS designId, line, part_id AS partId, quantity, fitted_after AS fittedAfter, notes
     FROM parts_line WHERE design_id = ? ORDER BY line`,
  ),
  positions: $client.prepare<[string], BarePosition>(
    `SELECT designator, position.part_id AS partId, line_id AS lineId, blocks, position.fitted_after AS fittedAfter,
       part.programmed AS isProgrammed
     FROM position JOIN part ON part.id = position.part_id JOIN parts_line ON parts_line.id = position.line_id
     WHERE position.design_id = ? ORDER BY parts_line.line, designator`,
  ),
  line: $client.prepare(
    'INSERT INTO parts_line (id, design_id, line, part_id, quantity, fitted_after, notes) VALUES (?, ?, ?, ?, ?, ?, ?)',
  ),
  position: $client.prepare(
    'INSERT INTO position (design_id, designator, part_id, line_id, blocks, fitted_after) VALUES (?, ?, ?, ?, ?, ?)',
  ),
  empty: $client.prepare('INSERT INTO left_empty (design_id, designator, line, part_id, blocks, notes) VALUES (?, ?, ?, ?, ?, ?)'),
}))

/** Of these there may be thousands, in one turn: the statement itself, for each row, is what holds the house least. */
function insertMany(db: Db, lines: readonly PartsLineRow[], positions: readonly PositionRow[], leftEmpties: readonly LeftEmptyRow[]): void {
  const { line, position: place, empty } = many(db)
  for (const one of lines) line.run(one.id, one.designId, one.line, one.partId, one.quantity, one.fittedAfter, one.notes)
  for (const one of positions) place.run(one.designId, one.designator, one.partId, one.lineId, JSON.stringify(one.blocks), one.fittedAfter)
  for (const one of leftEmpties) empty.run(one.designId, one.designator, one.line, one.partId, JSON.stringify(one.blocks), one.notes)
}

export const checksOf = (db: Db, designId: string): Check[] =>
  db
    .select()
    .from(checkStep)
    .where(eq(checkStep.designId, designId))
    .orderBy(asc(checkStep.seq))
    .all()
    .map(({ designId: _design, hold, powered, hours, starts, lowerAs, upperAs, homeTouch, homeNeeds, homeSigns, ...rest }) => ({
      ...rest,
      ...(homeTouch + homeNeeds + homeSigns !== '' && { atHome: { touch: homeTouch, needs: homeNeeds, signs: homeSigns } }),
      ...(lowerAs === null && upperAs === null ? {} : { limitsAs: { lower: lowerAs, upper: upperAs } }),
      isHold: hold,
      isPowered: powered,
      soakHours: hours,
      coldStarts: starts,
    }))

export const feedsOf = (db: Db, designId: string): Feed[] =>
  db
    .select({ from: feed.fromBlock, to: feed.toBlock, kind: feed.kind, point: feed.point, expects: feed.expects })
    .from(feed)
    .innerJoin(block, and(eq(block.designId, feed.designId), eq(block.name, feed.fromBlock)))
    .where(eq(feed.designId, designId))
    .orderBy(asc(block.seq))
    .all()
    .map(({ point, expects, ...rest }) => (point === '' ? rest : { ...rest, point, expects }))

export const revisionsOf = (db: Db, key: string): DesignRow[] =>
  db.select().from(design).where(eq(design.key, key)).orderBy(asc(design.at)).all()

export const blocksOf = (db: Db, designId: string): string[] =>
  db
    .select({ name: block.name })
    .from(block)
    .where(eq(block.designId, designId))
    .orderBy(asc(block.seq))
    .all()
    .map(({ name }) => name)

type FoundPosition = Position & { lineId: string }
type BarePosition = Omit<FoundPosition, 'blocks' | 'isProgrammed'> & { blocks: string; isProgrammed: number }

export function positionsOf(db: Db, designId: string): FoundPosition[] {
  // Thousands of positions name a few blocks over and over.
  const known = new Map<string, string[]>()
  return many(db)
    .positions.all(designId)
    .map(({ blocks, isProgrammed, ...row }) => {
      const names = known.get(blocks) ?? (JSON.parse(blocks) as string[])
      known.set(blocks, names)
      return { ...row, blocks: names, isProgrammed: isProgrammed === 1 }
    })
}

export const linesOf = (db: Db, designId: string): PartsLineRow[] => many(db).lines.all(designId)

export const leftEmptyOf = (db: Db, designId: string): LeftEmptyRow[] =>
  db.select().from(leftEmpty).where(eq(leftEmpty.designId, designId)).orderBy(asc(leftEmpty.line), asc(leftEmpty.designator)).all()
