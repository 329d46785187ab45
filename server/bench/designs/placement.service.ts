import type { z } from 'zod'
import { Refusal } from '#kernel/refusal'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import type { placementIn, previewPlacementIn } from './design.contract'
import { getDesign, type WholeDesign } from './designs.service'
import { sourceOf } from './list-source.rules'
import { type Placed, readPlacement } from './placement.rules'
import * as store from './placement.store'

/** Where the parts of a design sit on its board; it holds for every revision until it is read anew. */
export const placementOf = (sight: Sight, designKey: string): Placed[] => store.placementOf(sight.db, designKey)

/** What a file says, what is wrong with it, and how it fits the parts list. Nothing is stored. */
export function previewPlacement(sight: Sight, { designId, sheet, unit }: z.output<typeof previewPlacementIn>) {
  const design = getDesign(sight, designId)
  const { table, flaws, unit: found, rows } = readPlacement(sourceOf(sheet), { ...sheet, unit })
  return {
    sheet: { encoding: table.encoding, delimiter: table.delimiter, hasHeading: table.hasHeading, columns: table.columns },
    asked: table.columns.flatMap(({ heading, column, guess }) => (guess !== null && column !== null ? [{ heading, column, guess }] : [])),
    flaws: flaws.slice(0, 50),
    unit: found,
    rows,
    ...against(design, rows),
  }
}

/** Keeps where parts sit, in place of what was kept; refused while anything in the file cannot be read, or a guess was not confirmed. */
export function savePlacement(turn: Turn, _actor: Actor, input: z.output<typeof placementIn>): { parts: number } {
  const { key } = getDesign(turn, input.designId)
  const read = previewPlacement(turn, input)
  const [flaw] = read.flaws
  if (flaw) throw Refusal.at('sheet', flaw.line === 0 ? flaw.words : `Line ${flaw.line}: ${flaw.words}`)
  if ((read.asked.length > 0 || read.unit.asks) && !input.confirmGuesses)
    throw Refusal.at('confirmGuesses', 'Say that what was guessed is so, or choose what it is.', 'conflict')
  store.replacePlacement(turn.db, key, read.rows)
  turn.record({ kind: 'design.placement', subject: `design:${key}`, body: { designId: input.designId, parts: read.rows.length } })
  return { parts: read.rows.length }
}

/** Positions that the file leaves out, and what it has beside them: test points, marks for the machine that places parts. */
function against({ positions }: WholeDesign, rows: readonly Placed[]): { missing: string[]; beside: string[] } {
  const placed = new Set(rows.map(({ designator }) => designator))
  const known = new Set(positions.map(({ designator }) => designator))
  return { missing: [...known].filter((one) => !placed.has(one)), beside: [...placed].filter((one) => !known.has(one)) }
}
