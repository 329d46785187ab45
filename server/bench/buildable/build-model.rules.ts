import { mayGoTo } from '#stock/donors/gift.rules'
import type { Stock } from '#stock/shelf/shelf.contract'
import { Allocation } from './allocation.rules'
import type { UnitNeeds } from './build.contract'

/** Pieces that are alike for the planner: of one part and with one restriction. */
export interface Shelf extends Stock {
  index: number
}

/** What one unit wants, from whichever shelves suit; lines that the same shelves suit are one. */
export interface UnitDemand {
  quantity: number
  shelves: number[]
}

export interface Model {
  units: { unit: UnitNeeds; demands: UnitDemand[] /** Line by line, for the picture. */; lines: UnitDemand[] }[]
  shelves: Shelf[]
}

const restrictionKey = ({ onlyForUnitId, onlyForDesignId }: Stock) => `${onlyForUnitId ?? ''}|${onlyForDesignId ?? ''}`
const freedom = ({ onlyForUnitId, onlyForDesignId }: Stock) => (onlyForUnitId !== null ? 0 : onlyForDesignId !== null ? 1 : 2)

/** Stock in shelves, and for each unit which shelves suit each of its lines: the part listed before its substitutes, restricted before free. */
export function makeModel(units: readonly UnitNeeds[], stock: readonly Stock[]): Model {
  const byKey = new Map<string, Shelf>()
  for (const row of stock) {
    const key = `${row.partId}|${restrictionKey(row)}`
    const known = byKey.get(key)
    if (known) known.quantity += row.quantity
    else byKey.set(key, { ...row, index: byKey.size })
  }
  const shelves = [...byKey.values()]
  const ofPart = new Map<string, Shelf[]>()
  for (const shelf of [...shelves].sort((a, b) => freedom(a) - freedom(b))) {
    ofPart.set(shelf.partId, [...(ofPart.get(shelf.partId) ?? []), shelf])
  }
  return {
    shelves,
    units: units.map((unit) => {
      const lines = unit.lines.map(({ partId, accepts, quantity }) => ({
        quantity,
        shelves: [...new Set([partId, ...accepts])]
          .flatMap((id) => ofPart.get(id) ?? [])
          .filter((shelf) => mayGoTo(shelf, unit))
          .map((shelf) => shelf.index),
      }))
      return { unit, lines, demands: merged(lines) }
    }),
  }
}

function merged(lines: readonly UnitDemand[]): UnitDemand[] {
  const bySet = new Map<string, UnitDemand>()
  for (const { quantity, shelves } of lines) {
    const key = [...shelves].sort((a, b) => a - b).join()
    const known = bySet.get(key)
    if (known) known.quantity += quantity
    else bySet.set(key, { quantity, shelves: [...shelves] })
  }
  return [...bySet.values()].filter(({ quantity }) => quantity > 0)
}

/** True when all of these units can be completed together. What has only one shelf to come from is counted; only the rest needs a search. */
export function areBuildable({ units, shelves }: Model, chosen: ReadonlySet<number>): boolean {
  const left = shelves.map(({ quantity }) => quantity)
  const open: UnitDemand[] = []
  for (const index of chosen) {
    for (const demand of units[index]?.demands ?? []) {
      const [only] = demand.shelves
      if (demand.shelves.length > 1) open.push(demand)
      else if (only === undefined) return false
      else {
        left[only] = (left[only] ?? 0) - demand.quantity
        if ((left[only] ?? 0) < 0) return false
      }
    }
  }
  const allocation = new Allocation()
  for (const quantity of left) allocation.addShelf(quantity)
  return open.every((demand) => allocation.fill(allocation.add(demand)) === 0)
}

/** The units that can be completed when each, in the order given, takes what it needs if it can be completed. Not the most there could be. */
export function buildableInOrder({ units, shelves }: Model): Set<number> {
  const allocation = new Allocation()
  for (const shelf of shelves) allocation.addShelf(shelf.quantity)
  const chosen = new Set<number>()
  for (const [index, { demands }] of units.entries()) {
    const own: number[] = []
    const isComplete = demands.every((demand) => {
      own.push(allocation.add(demand))
      return allocation.fill(own.at(-1) ?? 0) === 0
    })
    if (isComplete) chosen.add(index)
    else allocation.release(own)
  }
  return chosen
}
