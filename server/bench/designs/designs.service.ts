import { csvFile, type SavedFile } from '#kernel/csv'
import { groupBy } from '#kernel/group'
import { Refusal } from '#kernel/refusal'
import type { Sight } from '#runtime/queue/turn'
import { type PartCard, partsById } from '#stock/catalogue/part.service'
import type { Check, Feed, Position } from './design.contract'
import * as store from './designs.store'
import { substitutesOf } from './substitutes.service'
import { PARTS_LIST_HEAD, partsListRow } from './write-parts-list.rules'

export interface WholeDesign extends store.DesignRow {
  checks: Check[]
  feeds: Feed[]
  blocks: string[]
  positions: (Position & { lineId: string })[]
  lines: (store.PartsLineRow & { part: PartCard; designators: string[] })[]
  /** Positions that stay empty, by the lines of the list. */
  leftEmpty: { line: number; part: PartCard; designators: string[]; blocks: string[]; notes: string }[]
}

/** The parts list as a table that can be imported again, and changes nothing then. */
export function partsListFile(sight: Sight, designId: string): SavedFile {
  const design = getDesign(sight, designId)
  const accepted = substitutesOf(sight, designId)
  const blocksOf = new Map(design.positions.map(({ lineId, blocks }) => [lineId, blocks]))
  const rows = design.lines.map((line) => {
    const blocks = blocksOf.get(line.id) ?? []
    const substitutes = (accepted.get(line.id) ?? []).map(({ part }) => part)
    return partsListRow({ ...line, blocks, substitutes })
  })
  for (const { designators, ...empty } of design.leftEmpty) {
    rows.push(partsListRow({ ...empty, designators, quantity: designators.length, fittedAfter: null, notFitted: true, substitutes: [] }))
  }
  return csvFile(`${design.key}-${design.revision}-parts.csv`.replaceAll(/[^\w.-]+/g, '-'), PARTS_LIST_HEAD, rows)
}

// The lists of a design are what its digest says, so what was read once is good for as long as the digest is the same:
// every reading at the bench asks for it.
const known = new WeakMap<Sight['db'], Map<string, WholeDesign>>()

export function getDesign(sight: Sight, id: string): WholeDesign {
  const row = store.findDesignRow(sight.db, id)
  if (!row) throw new Refusal('not-found', 'There is no such design.')
  const kept = known.get(sight.db) ?? new Map<string, WholeDesign>()
  known.set(sight.db, kept)
  const before = kept.get(id)
  if (before && before.digest === row.digest) return before
  const whole = readWhole(sight, row)
  kept.set(id, whole)
  return whole
}

function readWhole(sight: Sight, row: store.DesignRow): WholeDesign {
  const { id } = row
  const lines = store.linesOf(sight.db, id)
  const positions = store.positionsOf(sight.db, id)
  const empty = store.leftEmptyOf(sight.db, id)
  const parts = partsById(
    sight,
    [...lines, ...empty].map(({ partId }) => partId),
  )
  const placesOf = groupBy(positions, ({ lineId }) => lineId)
  return {
    ...row,
    checks: store.checksOf(sight.db, id),
    feeds: store.feedsOf(sight.db, id),
    blocks: store.blocksOf(sight.db, id),
    positions,
    lines: lines.flatMap((line) => {
      const part = parts.get(line.partId)
      const designators = (placesOf.get(line.id) ?? []).map(({ designator }) => designator)
      return part ? [{ ...line, part, designators }] : []
    }),
    leftEmpty: [...groupBy(empty, ({ line }) => line)].flatMap(([line, rows]) => {
      const [first] = rows
      const part = first && parts.get(first.partId)
      if (!first || !part) return []
      return [{ line, part, designators: rows.map(({ designator }) => designator), blocks: first.blocks, notes: first.notes }]
    }),
  }
}

/** Every revision of a design, the oldest first. */
export const revisionsOf = (sight: Sight, key: string): store.DesignRow[] => store.revisionsOf(sight.db, key)

export const listDesigns = (sight: Sight) =>
  store.allDesignRows(sight.db).map((row) => ({
    ...row,
    positions: store.positionsOf(sight.db, row.id).length,
    checks: store.checksOf(sight.db, row.id).length,
  }))
