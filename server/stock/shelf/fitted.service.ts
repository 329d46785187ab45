import type { Sight } from '#runtime/queue/turn'
import { certifiedRows, everFittedRows, fittedRows } from './fitted.store'

/** One position of a unit that is filled from a batch: by a piece with a tag, or by one without. */
export type FittedPiece = ReturnType<typeof fittedRows>[number]

/** What of these batches is in which unit now, piece by piece. */
export const fittedNow = (sight: Sight, batchIds: readonly string[]): FittedPiece[] => fittedRows(sight.db, batchIds)

/** How many of each batch were found good in a machine: those in one that holds a certificate. */
export const goodInMachines = (sight: Sight, batchIds: readonly string[]): Map<string, number> =>
  new Map(certifiedRows(sight.db, batchIds).map(({ batchId, good }) => [batchId, good]))

/** The tags of these pieces stand in some unit's record, so they can never be taken back. */
export const everFitted = (sight: Sight, pieceIds: readonly string[]): Set<string | null> =>
  new Set(everFittedRows(sight.db, pieceIds).map((row) => row.pieceId))
