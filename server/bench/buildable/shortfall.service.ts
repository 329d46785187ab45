import { groupBy } from '#kernel/group'
import type { Instant } from '#kernel/instant'
import type { Sight } from '#runtime/queue/turn'
import { type PartCard, partsById } from '#stock/catalogue/part.service'
import { listDonors } from '#stock/donors/donor.service'
import { outstandingPromises } from '#stock/donors/gift.service'
import { listBatches } from '#stock/shelf/batch.service'
import { batchCards, stockNow, stockOf } from '#stock/shelf/stock.service'
import { type UnitOutlook, whatCanBeBuilt, whatIsShort, whatWasUnblocked } from './buildable.rules'
import { unitNeeds } from './needs.service'

export interface ShortPart {
  part: PartCard
  short: number
  waiting: string[]
  promised: { donorId: string; donorName: string; quantity: number; at: Instant }[]
}

export interface Outlook {
  units: (UnitOutlook & { designName: string })[]
  /** Those that most units wait for first. */
  parts: ShortPart[]
}

/** What can be built when parts go to units in order, what is then short, and who promised it. */
export function shortfall(sight: Sight): Outlook {
  const needs = unitNeeds(sight)
  const stock = stockNow(sight)
  const outlooks = whatCanBeBuilt(needs, stock)
  const short = whatIsShort(outlooks)
  const parts = partsById(
    sight,
    short.map((row) => row.partId),
  )
  const promises = groupBy(outstandingPromises(sight), (line) => line.partId)
  const names = new Map(listDonors(sight).map((donor) => [donor.id, donor.name]))
  const designs = new Map(needs.map((unit) => [unit.unitId, unit.designName]))
  return {
    units: outlooks.map((unit) => ({ ...unit, designName: designs.get(unit.unitId) ?? '' })),
    parts: short.flatMap(({ partId, ...row }) => {
      const part = parts.get(partId)
      const promised = (promises.get(partId) ?? []).map((line) => ({
        donorId: line.donorId,
        donorName: names.get(line.donorId) ?? '',
        quantity: line.quantity,
        at: line.promisedAt,
      }))
      return part ? [{ part, ...row, promised }] : []
    }),
  }
}

/** One line of the public wanted list; nothing in it is about a person. */
export interface WantedLine {
  partId: string
  what: string
  hardToFind: boolean
  /** Still to be promised by somebody. */
  quantity: number
  promised: number
  designs: string[]
  units: string[]
  /** Units that this part alone would complete. */
  frees: string[]
}

/** What is still needed and by nobody promised, the parts that hold up most machines first. */
export function wantedList(sight: Sight): WantedLine[] {
  const { units, parts } = shortfall(sight)
  const designOf = new Map(units.map((unit) => [unit.tag, unit.designName]))
  const alone = units.filter(({ lacks }) => lacks.length === 1)
  return parts
    .map(({ part, short, waiting, promised }) => {
      const promisedCount = promised.reduce((sum, line) => sum + line.quantity, 0)
      return {
        partId: part.id,
        what: part.words,
        hardToFind: part.hardToFind,
        quantity: Math.max(0, short - promisedCount),
        promised: Math.min(short, promisedCount),
        designs: [...new Set(waiting.map((tag) => designOf.get(tag) ?? ''))],
        units: waiting,
        frees: alone.filter(({ lacks }) => lacks[0]?.partId === part.id).map(({ tag }) => tag),
      }
    })
    .filter((line) => line.quantity > 0)
}

/** Asks of any batches which units can be completed now and could not without them; stock and needs are read once. */
export function unblockerNow(sight: Sight): (batchIds: readonly string[]) => string[] {
  const cards = batchCards(sight, listBatches(sight))
  const stock = stockOf(cards)
  const needs = unitNeeds(sight)
  return (batchIds) => {
    const came = stockOf(cards.filter((card) => batchIds.includes(card.id)))
    return came.length === 0 ? [] : whatWasUnblocked(needs, stock, came)
  }
}
