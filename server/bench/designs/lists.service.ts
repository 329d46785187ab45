import type { Actor, Turn } from '#runtime/queue/turn'
import { type PartIn, partIn } from '#stock/catalogue/part.contract'
import { findOrAddPart } from '#stock/catalogue/part.service'
import * as store from './designs.store'
import type { DesignDraft } from './import.rules'
import { insertSubstitute } from './substitutes.store'

/** Entries of the catalogue by how a list names them. */
export type PartIds = Map<string, string>

const keyOf = (part: PartIn) => JSON.stringify(part)

/** Every part that the lists name, once. */
export const partsNamed = ({ lines }: DesignDraft): PartIn[] => [
  ...new Map(lines.flatMap(({ part, substitutes }) => [part, ...substitutes]).map((part) => [keyOf(part), part])).values(),
]

/** Parts get into the catalogue, where they are not yet. */
export function knowParts(turn: Turn, parts: readonly PartIn[], partIds: PartIds): void {
  for (const part of parts) partIds.set(keyOf(part), findOrAddPart(turn, partIn.parse(part)).part.id)
}

/** Stores what the lists of a design say; parts that are not known yet get into the catalogue on the way. */
export function keepLists(turn: Turn, actor: Actor, designId: string, draft: DesignDraft, partIds: PartIds): void {
  const rows: store.ListRows = { lines: [], positions: [], leftEmpty: [], blocks: draft.blocks, feeds: draft.feeds, checks: draft.checks }
  // A list names the same part many times; it is looked up once.
  const idOf = (part: PartIn): string => {
    const key = keyOf(part)
    if (!partIds.has(key)) knowParts(turn, [part], partIds)
    return partIds.get(key) ?? ''
  }
  const instead: Parameters<typeof insertSubstitute>[1][] = []
  for (const [index, { part, fittedAfter, notes, quantity, blocks, designators, substitutes, notFitted }] of draft.lines.entries()) {
    const partId = idOf(part)
    if (notFitted) {
      rows.leftEmpty.push(...designators.map((designator) => ({ designId, designator, line: index + 1, partId, blocks, notes })))
      continue
    }
    const id = turn.dice.id()
    rows.lines.push({ id, designId, line: index + 1, partId, quantity, fittedAfter, notes })
    for (const designator of designators) rows.positions.push({ designId, designator, partId, lineId: id, blocks, fittedAfter })
    for (const [at, substitute] of substitutes.entries()) {
      instead.push({ lineId: id, partId: idOf(substitute), rank: at + 1, reason: '', at: turn.now, byPersonId: actor.personId })
    }
  }
  store.insertLists(turn.db, designId, rows)
  for (const row of instead) insertSubstitute(turn.db, row)
}
