import { groupBy } from '#kernel/group'
import type { Sight } from '#runtime/queue/turn'
import { getPart, listParts, type PartCard } from '#stock/catalogue/part.service'
import { type BatchChangeRow, batchChanges, listBatches } from '#stock/shelf/batch.service'
import { type InspectionRow, inspectionsOf } from '#stock/shelf/piece.service'
import { replacementPrices, type SaidPrice } from '#stock/shelf/price.service'
import { moreToAskFor, type SamplingCard, samplingOf } from '#stock/shelf/sampling.service'
import { type BatchCard, batchCards, batchesFor } from '#stock/shelf/stock.service'
import { unitNeeds } from './needs.service'
import { type Outlook, type ShortPart, shortfall } from './shortfall.service'

export interface PartInHand {
  part: PartCard
  inHand: number
  fitted: number
  batches: number
  quarantined: number
  short: number
}

/** The catalogue with what is in hand and what is short of each part, and what would unblock most. */
export function listPartsInHand(sight: Sight): { lines: PartInHand[]; outlook: Outlook } {
  const cards = groupBy(batchCards(sight, listBatches(sight)), (card) => card.partId)
  const outlook = shortfall(sight)
  const short = new Map(outlook.parts.map((row) => [row.part.id, row.short]))
  const sum = (rows: readonly BatchCard[], of: (card: BatchCard) => number) => rows.reduce((total, card) => total + of(card), 0)
  const lines = listParts(sight).map((part) => {
    const batches = cards.get(part.id) ?? []
    return {
      part,
      inHand: sum(batches, (card) => card.inHand),
      fitted: sum(batches, (card) => card.fitted),
      batches: batches.length,
      quarantined: batches.filter((card) => card.state === 'quarantined').length,
      short: short.get(part.id) ?? 0,
    }
  })
  // What is short stands first; the rest keeps the order of the catalogue.
  return { lines: lines.sort((a, b) => Number(b.short > 0) - Number(a.short > 0)), outlook }
}

export interface PartPage {
  part: PartCard
  batches: BatchCard[]
  inspections: InspectionRow[]
  changes: BatchChangeRow[]
  short: ShortPart | null
  sampling: BatchSampling[]
  /** What it would cost to buy again; and the pieces of each batch that has a price of its own. */
  price: SaidPrice | null
  batchPrices: Record<string, SaidPrice>
}

/** How far the testing of a batch is, how many good ones units still wait for, and how many more to ask for to have them with 90 %. */
export interface BatchSampling extends SamplingCard {
  needed: number
  /** Null: more than anybody gives. */
  toAskFor: number | null
}

export function partPage(sight: Sight, partId: string): PartPage {
  const batches = batchesFor(sight, partId)
  const needed = neededOf(sight, partId)
  const prices = replacementPrices(sight)
  const pieceIds = batches.flatMap((card) => card.loose.map((piece) => piece.id))
  return {
    part: getPart(sight, partId),
    batches,
    inspections: inspectionsOf(sight, pieceIds),
    changes: batchChanges(
      sight,
      batches.map((card) => card.id),
    ),
    short: shortfall(sight).parts.find((row) => row.part.id === partId) ?? null,
    sampling: samplingOf(sight, batches).map((card) => ({ ...card, needed, toAskFor: moreToAskFor(card, needed) })),
    price: prices.ofPart.get(partId) ?? null,
    batchPrices: Object.fromEntries([...prices.ofBatch].filter(([batchId]) => batches.some(({ id }) => id === batchId))),
  }
}

/** How many of a part units still wait for. */
const neededOf = (sight: Sight, partId: string): number =>
  unitNeeds(sight)
    .flatMap(({ lines }) => lines)
    .reduce((sum, line) => sum + (line.partId === partId ? line.quantity : 0), 0)
