import type { z } from 'zod'
import { groupBy } from '#kernel/group'
import { Refusal } from '#kernel/refusal'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { getPart, type PartCard, partsById } from '#stock/catalogue/part.service'
import type { acceptIn, refuseIn } from './design.contract'
import * as store from './substitutes.store'

export interface Substitute {
  part: PartCard
  reason: string
}

/** The parts that each line accepts in place of its own, the preferred first; by line. */
export function substitutesOf(sight: Sight, designId: string): Map<string, Substitute[]> {
  const rows = store.substituteRows(sight.db, designId)
  const parts = partsById(
    sight,
    rows.map(({ partId }) => partId),
  )
  const known = rows.flatMap(({ lineId, partId, reason }) => {
    const part = parts.get(partId)
    return part ? [{ lineId, part, reason }] : []
  })
  return groupBy(known, ({ lineId }) => lineId)
}

/** The same for every design, as ids only: what planning asks for. */
export function acceptedByLine(sight: Sight): Map<string, string[]> {
  const groups = groupBy(store.substituteRows(sight.db), ({ lineId }) => lineId)
  return new Map([...groups].map(([lineId, rows]) => [lineId, rows.map(({ partId }) => partId)]))
}

/**
 * From now on a part may be fitted on a line in place of its own. Allowed while units are being built: what they are
 * judged by stays the same, and the record names the batch that is really in each position.
 */
export function acceptSubstitute(turn: Turn, actor: Actor, { lineId, partId, reason }: z.output<typeof acceptIn>): void {
  const line = store.findLine(turn.db, lineId)
  if (!line) throw new Refusal('not-found', 'There is no such line in a parts list.')
  const [own, part] = [getPart(turn, line.partId), getPart(turn, partId)]
  if (part.id === own.id) throw Refusal.at('partId', `${part.words} is what the line asks for. Choose another part.`)
  if (part.kind !== own.kind) throw Refusal.at('partId', `A ${part.kind} cannot stand for a ${own.kind}. Choose a ${own.kind}.`)
  if (part.programmed !== own.programmed || (own.programmed && part.imageSha256 !== own.imageSha256)) {
    const words = own.programmed
      ? 'is programmed: its substitute must hold the same image'
      : 'is not programmed, and its substitute may not be'
    throw Refusal.at('partId', `${own.words} ${words}. Choose another part.`)
  }
  const before = store.substituteRows(turn.db, line.designId).find((row) => row.lineId === lineId && row.partId === partId)
  if (before) return
  const rank = store.nextRank(turn.db, lineId)
  store.insertSubstitute(turn.db, { lineId, partId, rank, reason, at: turn.now, byPersonId: actor.personId })
  const body = { designId: line.designId, lineId, instead: own.id, partId, reason }
  turn.record({ kind: 'substitute.accepted', subject: `design:${line.designId}`, body })
}

/** A substitute is accepted no more. What was fitted of it stays fitted, and stands in the record. */
export function refuseSubstitute(turn: Turn, _actor: Actor, { lineId, partId }: z.output<typeof refuseIn>): void {
  const line = store.findLine(turn.db, lineId)
  if (!line) throw new Refusal('not-found', 'There is no such line in a parts list.')
  store.deleteSubstitute(turn.db, lineId, partId)
  turn.record({ kind: 'substitute.refused', subject: `design:${line.designId}`, body: { designId: line.designId, lineId, partId } })
}
