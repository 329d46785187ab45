import type { Stock, Unblocker, UnitPlan } from './build.contract'
import { type Model, makeModel } from './build-model.rules'
import { mostUnits, type Solve } from './most-units.rules'

/** More parts than this are no longer a list to act on. */
const MOST = 10

interface Known {
  model: Model
  stock: readonly Stock[]
  /** The units that can be built now, and where the pieces for each stand. */
  chosen: ReadonlySet<number>
  plans: readonly UnitPlan[]
  solve: Solve
}

/** The parts of which enough would let most more units be built; between equals, those that most units wait for. */
export function whatWouldUnblock(known: Known): Unblocker[] {
  const { model, plans, chosen } = known
  const short = new Map<string, { short: number; waiting: string[] }>()
  for (const [index, plan] of plans.entries()) {
    for (const { partId, onItsWay, promised, missing } of plan.lines) {
      const lacks = onItsWay + promised + missing
      if (lacks === 0) continue
      const row = short.get(partId) ?? { short: 0, waiting: [] }
      const tag = model.units[index]?.unit.tag ?? ''
      short.set(partId, { short: row.short + lacks, waiting: row.waiting.includes(tag) ? row.waiting : [...row.waiting, tag] })
    }
  }
  const most = boundsWithout(model)
  const rows = [...short].map(([partId, row]) => ({ partId, ...row, most: most(partId) - chosen.size }))
  const byWaiting = (a: (typeof rows)[number], b: (typeof rows)[number]) =>
    b.waiting.length - a.waiting.length || b.short - a.short || (a.partId < b.partId ? -1 : 1)
  const found: Unblocker[] = []
  for (const { most: atMost, ...row } of rows.sort((a, b) => b.most - a.most || byWaiting(a, b))) {
    // Ten are known that free at least as many as any of the rest could.
    if (found.length >= MOST && atMost > 0 && found.filter(({ gain }) => gain > atMost).length >= MOST) break
    found.push(atMost <= 0 ? { ...row, gain: 0, frees: [] } : { ...row, ...whatIsFreed(known, row.partId) })
  }
  return found.sort((a, b) => b.gain - a.gain || byWaiting({ ...a, most: 0 }, { ...b, most: 0 })).slice(0, MOST)
}

/** How many more could be built with enough of this part, and which. */
function whatIsFreed({ model, stock, chosen, solve }: Known, partId: string): Pick<Unblocker, 'gain' | 'frees'> {
  const units = model.units.map(({ unit }) => unit)
  const quantity = units.reduce((sum, unit) => unit.lines.reduce((own, line) => own + line.quantity, sum), 0)
  const then = makeModel(units, [...stock, { partId, quantity, onlyForUnitId: null, onlyForDesignId: null }])
  const best = mostUnits(then, solve)
  const frees = [...best].filter((index) => !chosen.has(index)).sort((a, b) => a - b)
  return { gain: best.size - chosen.size, frees: frees.flatMap((index) => units[index]?.tag ?? []) }
}

/**
 * For any part, how many units there could be at most if that part were no matter. Each shelf alone sets a bound: so
 * many of the units that ask least of it as it has pieces for, counting only what can come from nowhere else.
 */
function boundsWithout({ units, shelves }: Model): (partId: string) => number {
  const asked = shelves.map(() => units.map(() => 0))
  for (const [index, { unit, lines }] of units.entries()) {
    for (const [line, { quantity, shelves: from }] of lines.entries()) {
      const row = from.length === 1 && unit.lines[line]?.accepts.length === 0 ? asked[from[0] ?? -1] : undefined
      if (row) row[index] = (row[index] ?? 0) + quantity
    }
  }
  const bounds = shelves.map((shelf) => {
    let left = shelf.quantity
    let count = 0
    for (const quantity of asked[shelf.index]?.sort((a, b) => a - b) ?? []) {
      left -= quantity
      if (left < 0) break
      count += 1
    }
    return { partId: shelf.partId, count }
  })
  // What has no shelf at all stops its units, unless it is the very part.
  const stopped = units.map(({ unit, lines }) => unit.lines.filter((_, line) => (lines[line]?.shelves.length ?? 0) === 0))
  return (partId) => {
    const byShelf = Math.min(units.length, ...bounds.filter((bound) => bound.partId !== partId).map(({ count }) => count))
    const free = stopped.filter((lines) => lines.every((line) => line.partId === partId || line.accepts.includes(partId))).length
    return Math.min(byShelf, free)
  }
}
