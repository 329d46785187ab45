import type { Stock } from '#stock/shelf/shelf.contract'
import { Allocation } from './allocation.rules'
import type { BuildAnswer, BuildQuestion, Coming, Delay, LineOutlook, UnitNeeds, UnitPlan } from './build.contract'
import { type Model, makeModel } from './build-model.rules'
import { howMany, mostUnits, type Solve } from './most-units.rules'
import { whatWouldUnblock } from './unblock.rules'

/** What can be built now, what is short for the rest, what would unblock most, and what a late parcel costs. */
export function planBuild({ units, stock, coming, lastUsefulDay }: BuildQuestion, solve: Solve): BuildAnswer {
  const model = makeModel(units, stock)
  const chosen = mostUnits(model, solve)
  const plans = picture(model, chosen, coming)
  return {
    units: plans,
    unblockers: whatWouldUnblock({ model, stock, chosen, plans, solve }),
    ...whenParcelsAreLate({ units, stock, coming, lastUsefulDay }, solve),
  }
}

/** Earlier classes first, then the order in which units stand. */
const byImportance = (units: readonly UnitNeeds[]) =>
  units.map((unit, index) => ({ unit, index })).sort((a, b) => a.unit.importance - b.unit.importance || a.index - b.index)

/**
 * Lays every piece against the unit that it is kept for: those that can be built first, from what is in hand; then the
 * rest in order, first from what is in hand, then from what is on its way, then from what is promised.
 */
function picture(model: Model, chosen: ReadonlySet<number>, coming: readonly Coming[]): UnitPlan[] {
  const waves = [coming.filter((one) => one.isOnItsWay), coming.filter((one) => !one.isOnItsWay)]
  const later = waves.map((wave) =>
    makeModel(
      model.units.map(({ unit }) => unit),
      wave,
    ),
  )
  const allocation = new Allocation()
  for (const shelf of model.shelves) allocation.addShelf(shelf.quantity)
  const starts = later.map(({ shelves }) => shelves.map(() => allocation.addShelf(0))[0] ?? 0)
  const order = byImportance(model.units.map(({ unit }) => unit))
  const inTurn = [...order.filter(({ index }) => chosen.has(index)), ...order.filter(({ index }) => !chosen.has(index))]
  const demands = new Map<number, number[]>()
  for (const { index } of inTurn) {
    const own = (model.units[index]?.lines ?? []).map(({ quantity, shelves }, line) => {
      const after = chosen.has(index)
        ? []
        : later.flatMap(({ units }, wave) => units[index]?.lines[line]?.shelves.map((shelf) => shelf + (starts[wave] ?? 0)) ?? [])
      return allocation.add({ quantity, shelves: [...shelves, ...after] })
    })
    demands.set(index, own)
    for (const demand of own) allocation.fill(demand)
  }
  for (const [wave, { shelves }] of later.entries()) {
    for (const shelf of shelves) allocation.stock(shelf.index + (starts[wave] ?? 0), shelf.quantity)
    for (const { index } of inTurn) for (const demand of demands.get(index) ?? []) allocation.fill(demand)
  }
  const [onWayFrom = 0, promisedFrom = 0] = starts
  const hasOnWay = (later[0]?.shelves.length ?? 0) > 0
  const hasPromised = (later[1]?.shelves.length ?? 0) > 0
  const waveOf = (shelf: number) =>
    hasPromised && shelf >= promisedFrom ? 'promised' : hasOnWay && shelf >= onWayFrom ? 'onItsWay' : 'there'
  return model.units.map(({ unit }, index) => ({
    unitId: unit.unitId,
    buildable: chosen.has(index),
    lines: unit.lines.map(({ lineId, partId }, line): LineOutlook => {
      const demand = demands.get(index)?.[line] ?? 0
      const row: LineOutlook = { lineId, partId, there: 0, instead: 0, onItsWay: 0, promised: 0, missing: allocation.lacks(demand) }
      for (const { shelf, quantity } of allocation.from(demand)) {
        const wave = waveOf(shelf)
        row[wave] += quantity
        if (wave === 'there' && model.shelves[shelf]?.partId !== partId) row.instead += quantity
      }
      return row
    }),
  }))
}

/** The day so many days after a civil day. */
export function dayAfter(day: string, days: number): string {
  return new Date(Date.parse(`${day}T00:00:00Z`) + days * 86_400_000).toISOString().slice(0, 10)
}

/** Which units would be ready in time, and which of them would not if one parcel came a week later than expected. */
function whenParcelsAreLate({ units, stock, coming, lastUsefulDay }: BuildQuestion, solve: Solve): Pick<BuildAnswer, 'delays' | 'inTime'> {
  if (lastUsefulDay === null) return { delays: [], inTime: [] }
  const inTimeFor = (one: Coming, late: number) => one.expectedOn !== null && dayAfter(one.expectedOn, late) <= lastUsefulDay
  const useful = coming.filter((one) => inTimeFor(one, 0))
  const planned = mostUnits(makeModel(units, [...stock, ...useful]), solve)
  const idsOf = (indices: Iterable<number>) => [...indices].sort((a, b) => a - b).flatMap((index) => units[index]?.unitId ?? [])
  const parcels = [...new Set(coming.filter((one) => one.expectedOn !== null).map((one) => one.parcel))]
  const delays = parcels.map((parcel): Delay => {
    const own = coming.filter((one) => one.parcel === parcel && one.expectedOn !== null)
    const expectedOn = own.map((one) => one.expectedOn ?? '').sort()[0] ?? ''
    const held: Stock[] = useful.filter((one) => one.parcel !== parcel || inTimeFor(one, 7))
    const row = { parcel, expectedOn, lateOn: dayAfter(expectedOn, 7) }
    if (held.length === useful.length) return { ...row, misses: [], fewer: 0 }
    const then = makeModel(units, [...stock, ...held])
    const kept = mostUnits(then, solve, planned)
    return {
      ...row,
      misses: idsOf([...planned].filter((index) => !kept.has(index))),
      fewer: planned.size - howMany(then, solve, kept.size),
    }
  })
  return { delays, inTime: idsOf(planned) }
}
