import type { Sight } from '#runtime/queue/turn'
import { readLeaves } from '../history/history.service'
import { factOf } from '../history/play-again.rules'
import { type LotState, replay } from '../history/replay.rules'
import { getLotRow } from '../lots/lots.service'
import { listBidsOfLot } from './bids.service'
import { keptOf, loadOpenedLot, openedLot } from './lot-state.service'

/** True when what is kept of a lot for speed is what its whole history leads to. */
export function isKeptRight(sight: Sight, number: number): boolean {
  const row = getLotRow(sight, number)
  if (row.ledgerSize === 0) return true
  const { state } = openedLot(sight, row)
  const maxima = new Map(listBidsOfLot(sight, row.id).map(({ sequence, maximumMinor }) => [sequence, maximumMinor]))
  const facts = readLeaves(sight, row.id).flatMap((leaf) => factOf(leaf, ({ sequence }) => maxima.get(sequence) ?? 0) ?? [])
  const again = replay(state.terms, facts)
  const said = (one: LotState) =>
    JSON.stringify({
      ...keptOf(one),
      phase: one.phase,
      heldSince: one.heldSince,
      maxima: [one.leader?.maximumMinor, one.second?.maximumMinor],
    })
  return said(again) === said(state) && said(again) === said(loadOpenedLot(sight, number).state)
}
