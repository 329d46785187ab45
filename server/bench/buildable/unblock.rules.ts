import type { Stock } from '#stock/shelf/shelf.contract'
import type { Unblocker, UnitPlan } from './build.contract'
import { type Model, makeModel } from './build-model.rules'
import { countedAtOnce, mostUnits, pricesOf, type Solve, whichShelfFrees } from './most-units.rules'

/** More than all units together could want of a part. */
const ENOUGH = 1_000_000

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
  const frees = partsThatFree(
    known,
    rows.filter(({ most: atMost }) => atMost > 0).map(({ partId }) => partId),
  )
  for (const { most: atMost, ...row } of rows.sort((a, b) => b.most - a.most || byWaiting(a, b))) {
    // Ten are known that free at least as many as any of the rest could.
    if (found.length >= MOST && atMost > 0 && found.filter(({ gain }) => gain > atMost).length >= MOST) break
    found.push(frees.has(row.partId) ? { ...row, ...whatIsFreed(known, row.partId) } : { ...row, gain: 0, frees: [] })
  }
  return found.sort((a, b) => b.gain - a.gain || byWaiting({ ...a, most: 0 }, { ...b, most: 0 })).slice(0, MOST)
}

/** The same with enough of some parts, for whoever wants them. */
const withEnough = ({ units }: Model, stock: readonly Stock[], ...partIds: readonly string[]): Model =>
  makeModel(
    units.map(({ unit }) => unit),
    [...stock, ...partIds.map((partId) => ({ partId, quantity: ENOUGH, onlyForUnitId: null, onlyForDesignId: null }))],
  )

/** Those of these parts of which enough would let more units be built. */
function partsThatFree({ model, stock, chosen, solve }: Known, partIds: readonly string[]): Set<string> {
  const frees = new Set<string>()
  const left = new Set<string>()
  for (const partId of partIds) {
    const counted = countedAtOnce(withEnough(model, stock, partId), chosen.size)
    if (counted === null) left.add(partId)
    else if (counted > chosen.size) frees.add(partId)
  }
  while (left.size > 0) {
    const then = withEnough(model, stock, ...left)
    const had = new Map(
      then.shelves.flatMap(({ index, partId, quantity, onlyForUnitId, onlyForDesignId }) =>
        left.has(partId) && onlyForUnitId === null && onlyForDesignId === null ? [[index, quantity - ENOUGH] as const] : [],
      ),
    )
    const shelf = whichShelfFrees(then, had, chosen.size, solve)
    const partId = shelf === null ? undefined : then.shelves[shelf]?.partId
    if (partId === undefined) break
    frees.add(partId)
    left.delete(partId)
  }
  return frees
}

/** How many more could be built with enough of this part, and which. */
function whatIsFreed({ model, stock, chosen, solve }: Known, partId: string): Pick<Unblocker, 'gain' | 'frees'> {
  const best = mostUnits(withEnough(model, stock, partId), solve)
  const frees = [...best].filter((index) => !chosen.has(index)).sort((a, b) => a - b)
  return { gain: best.size - chosen.size, frees: frees.flatMap((index) => model.units[index]?.unit.tag ?? []) }
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
