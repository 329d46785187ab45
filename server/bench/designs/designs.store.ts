import { and, asc, eq } from 'drizzle-orm'
import type { Db } from '#db/open'
import { block, checkStep, design, feed, leftEmpty, part, partsLine, position, run, unit } from '#db/schema/index'
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

/** So many rows in one statement: far fewer than the parameters that SQLite takes, and far quicker than one by one. */
const ROWS_AT_ONCE = 200

function* inChunks<Row>(rows: readonly Row[]): Generator<Row[]> {
  for (let from = 0; from < rows.length; from += ROWS_AT_ONCE) yield rows.slice(from, from + ROWS_AT_ONCE)
}

export function insertLists(db: Db, designId: string, { lines, positions, leftEmpty: empty, blocks, feeds, checks }: ListRows): void {
  for (const some of inChunks(lines)) db.insert(partsLine).values(some).run()
  for (const some of inChunks(positions)) db.insert(position).values(some).run()
  for (const some of inChunks(empty)) db.insert(leftEmpty).values(some).run()
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

export const positionsOf = (db: Db, designId: string): (Position & { lineId: string })[] =>
  db
    .select({
      designator: position.designator,
      partId: position.partId,
      lineId: position.lineId,
      blocks: position.blocks,
      fittedAfter: position.fittedAfter,
      isProgrammed: part.programmed,
    })
    .from(position)
    .innerJoin(part, eq(part.id, position.partId))
    .innerJoin(partsLine, eq(partsLine.id, position.lineId))
    .where(eq(position.designId, designId))
    .orderBy(asc(partsLine.line), asc(position.designator))
    .all()

export const linesOf = (db: Db, designId: string): PartsLineRow[] =>
  db.select().from(partsLine).where(eq(partsLine.designId, designId)).orderBy(asc(partsLine.line)).all()

export const leftEmptyOf = (db: Db, designId: string): LeftEmptyRow[] =>
  db.select().from(leftEmpty).where(eq(leftEmpty.designId, designId)).orderBy(asc(leftEmpty.line), asc(leftEmpty.designator)).all()
