import { mayGoTo, type Restriction } from '../donors/gift.rules'

/** What one unit still lacks before it is fully fitted, part by part. Units come in the order in which they should be built. */
export interface UnitNeeds {
  unitId: string
  tag: string
  designId: string
  designName: string
  lines: { partId: string; quantity: number }[]
}

/** Good pieces in hand of one part with one restriction (or none). */
export interface Stock extends Restriction {
  partId: string
  quantity: number
}

export interface UnitOutlook {
  unitId: string
  tag: string
  /** Everything still to fit is in hand and kept for this unit. */
  buildable: boolean
  lacks: { partId: string; quantity: number }[]
}

/**
 * What can be built now. Units that can be completed take their parts first, in the order given; what is then
 * left goes to the others in the same order, and what they lack is the shortfall. A piece is promised to one unit only.
 */
export function whatCanBeBuilt(units: readonly UnitNeeds[], stock: readonly Stock[]): UnitOutlook[] {
  const shelf = new Shelf(stock)
  const complete = new Set<string>()
  for (const unit of units) {
    if (unit.lines.every(({ partId, quantity }) => shelf.has(partId, unit) >= quantity)) {
      for (const { partId, quantity } of unit.lines) shelf.take(partId, unit, quantity)
      complete.add(unit.unitId)
    }
  }
  return units.map((unit) => {
    if (complete.has(unit.unitId)) return { unitId: unit.unitId, tag: unit.tag, buildable: true, lacks: [] }
    const lacks = unit.lines
      .map(({ partId, quantity }) => ({ partId, quantity: quantity - shelf.take(partId, unit, quantity) }))
      .filter(({ quantity }) => quantity > 0)
    return { unitId: unit.unitId, tag: unit.tag, buildable: false, lacks }
  })
}

/** Pieces in hand, taken away as they are kept for units. Restricted ones go first where they may, to spare the free ones. */
class Shelf {
  private readonly rows: Stock[]
  constructor(stock: readonly Stock[]) {
    this.rows = stock.map((row) => ({ ...row })).sort((a, b) => freedom(a) - freedom(b))
  }
  private for(partId: string, unit: UnitNeeds): Stock[] {
    return this.rows.filter((row) => row.partId === partId && mayGoTo(row, unit))
  }
  has(partId: string, unit: UnitNeeds): number {
    return this.for(partId, unit).reduce((sum, row) => sum + row.quantity, 0)
  }
  take(partId: string, unit: UnitNeeds, wanted: number): number {
    let left = wanted
    for (const row of this.for(partId, unit)) {
      const taken = Math.min(left, row.quantity)
      row.quantity -= taken
      left -= taken
    }
    return wanted - left
  }
}

const freedom = (row: Restriction): number => (row.onlyForUnitId !== null ? 0 : row.onlyForDesignId !== null ? 1 : 2)

export interface Unblocker {
  partId: string
  /** How many are lacking over all units. */
  short: number
  /** Units that wait for this part, and units for which it is the only thing that is missing. */
  waiting: string[]
  frees: string[]
}

/** What would unblock most: for each part that is short, the units that could be completed if there were enough of it. */
export function whatWouldUnblock(units: readonly UnitNeeds[], stock: readonly Stock[]): Unblocker[] {
  const now = whatCanBeBuilt(units, stock)
  const buildableNow = new Set(now.filter((unit) => unit.buildable).map((unit) => unit.unitId))
  const short = new Map<string, { short: number; waiting: string[] }>()
  for (const unit of now) {
    for (const { partId, quantity } of unit.lacks) {
      const row = short.get(partId) ?? { short: 0, waiting: [] }
      short.set(partId, { short: row.short + quantity, waiting: [...row.waiting, unit.tag] })
    }
  }
  return [...short]
    .map(([partId, row]) => {
      const enough: Stock = { partId, quantity: row.short, onlyForUnitId: null, onlyForDesignId: null }
      const then = whatCanBeBuilt(units, [...stock, enough])
      const frees = then.filter((unit) => unit.buildable && !buildableNow.has(unit.unitId)).map((unit) => unit.tag)
      return { partId, ...row, frees }
    })
    .sort(
      (a, b) =>
        b.frees.length - a.frees.length || b.waiting.length - a.waiting.length || b.short - a.short || (a.partId < b.partId ? -1 : 1),
    )
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
  const before = new Set(
    whatCanBeBuilt(units, without)
      .filter((unit) => unit.buildable)
      .map((unit) => unit.unitId),
  )
  return whatCanBeBuilt(units, stock)
    .filter((unit) => unit.buildable && !before.has(unit.unitId))
    .map((unit) => unit.tag)
}
