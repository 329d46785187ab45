import type { Stock } from '#stock/shelf/shelf.contract'
import { Allocation } from './allocation.rules'
import type { UnitNeeds } from './build.contract'
import { buildableInOrder, makeModel } from './build-model.rules'

export interface UnitOutlook {
  unitId: string
  tag: string
  /** Everything still to fit is in hand and kept for this unit. */
  buildable: boolean
  lacks: { partId: string; quantity: number }[]
}

/**
 * What can be built when parts go to units in the order given: those that can be completed take theirs first, what is
 * then left goes to the others, and what they lack is the shortfall. A piece is kept for one unit only. Which choice
 * of units gives the most is a harder question: `mostUnits`.
 */
export function whatCanBeBuilt(units: readonly UnitNeeds[], stock: readonly Stock[]): UnitOutlook[] {
  const model = makeModel(units, stock)
  const complete = buildableInOrder(model)
  const allocation = new Allocation()
  for (const { quantity } of model.shelves) allocation.addShelf(quantity)
  const lacking = new Map<number, Map<string, number>>()
  const inTurn = [...units.keys()].sort((a, b) => Number(complete.has(b)) - Number(complete.has(a)) || a - b)
  for (const index of inTurn) {
    const lacks = new Map<string, number>()
    for (const [line, demand] of model.units[index]?.lines.entries() ?? []) {
      const left = allocation.fill(allocation.add(demand))
      const partId = units[index]?.lines[line]?.partId ?? ''
      if (left > 0) lacks.set(partId, (lacks.get(partId) ?? 0) + left)
    }
    lacking.set(index, lacks)
  }
  return units.map(({ unitId, tag }, index) => ({
    unitId,
    tag,
    buildable: complete.has(index),
    lacks: [...(lacking.get(index) ?? [])].map(([partId, quantity]) => ({ partId, quantity })),
  }))
}

export interface Short {
  partId: string
  /** How many are lacking over all units. */
  short: number
  waiting: string[]
}

/** The parts that are lacking, those that most units wait for first. */
export function whatIsShort(outlooks: readonly UnitOutlook[]): Short[] {
  const short = new Map<string, Short>()
  for (const { tag, lacks } of outlooks) {
    for (const { partId, quantity } of lacks) {
      const row = short.get(partId) ?? { partId, short: 0, waiting: [] }
      short.set(partId, { partId, short: row.short + quantity, waiting: [...row.waiting, tag] })
    }
  }
  return [...short.values()].sort((a, b) => b.waiting.length - a.waiting.length || b.short - a.short || (a.partId < b.partId ? -1 : 1))
}

/** The units that can be completed with this stock and could not without `parcel`. */
export function whatWasUnblocked(units: readonly UnitNeeds[], stock: readonly Stock[], parcel: readonly Stock[]): string[] {
  const without = stock.map((row) => ({ ...row }))
  for (const came of parcel) {
    let left = came.quantity
    for (const row of without) {
      if (row.partId !== came.partId || row.onlyForUnitId !== came.onlyForUnitId || row.onlyForDesignId !== came.onlyForDesignId) continue
      const taken = Math.min(left, row.quantity)
      row.quantity -= taken
      left -= taken
    }
  }
  const before = buildableInOrder(makeModel(units, without))
  const after = buildableInOrder(makeModel(units, stock))
  return units.filter((_, index) => after.has(index) && !before.has(index)).map(({ tag }) => tag)
}
