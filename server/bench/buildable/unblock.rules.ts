import type { Stock } from '#stock/shelf/shelf.contract'
import type { Unblocker, UnitPlan } from './build.contract'
import { type Model, makeModel } from './build-model.rules'
import { howMany, mostUnits, pricesOf, type Solve } from './most-units.rules'

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
  const { model, plans, chosen, solve } = known
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
  const most = boundsWithout(model, pricesOf(model, solve))
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
  if (howMany(then, solve, chosen.size) === chosen.size) return { gain: 0, frees: [] }
  const best = mostUnits(then, solve)
  const frees = [...best].filter((index) => !chosen.has(index)).sort((a, b) => a - b)
  return { gain: best.size - chosen.size, frees: frees.flatMap((index) => units[index]?.tag ?? []) }
}

/**
 * For any part, how many units there could be at most if that part were no matter: with the prices of the relaxed
 * program and that part for nothing, the dual's goal is a bound by weak duality, whatever the prices are.
 */
function boundsWithout({ units, shelves }: Model, prices: readonly number[]): (partId: string) => number {
  const lines = units.map(({ unit, lines: own }) =>
    own.map(({ quantity, shelves: from }, line) => {
      const { partId, accepts } = unit.lines[line] ?? { partId: '', accepts: [] }
      // The cheapest shelf is where it would come from; from none at all, and the unit cannot be built.
      return { parts: [partId, ...accepts], costs: quantity * Math.min(...from.map((shelf) => prices[shelf] ?? 0)) }
    }),
  )
  return (partId) => {
    const inHand = shelves.reduce((sum, shelf) => sum + (shelf.partId === partId ? 0 : shelf.quantity * (prices[shelf.index] ?? 0)), 0)
    const units = lines.reduce(
      (sum, own) => sum + Math.max(0, 1 - own.reduce((costs, line) => costs + (line.parts.includes(partId) ? 0 : line.costs), 0)),
      0,
    )
    return Math.floor(inHand + units + 1e-6)
  }
}
