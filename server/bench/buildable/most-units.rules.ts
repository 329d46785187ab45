import { invariant } from '#kernel/invariant'
import { areBuildable, type Model, type UnitDemand } from './build-model.rules'

/**
 * Solves a program in LP format to proven optimality: the value of each column, and where nothing is whole the price of each row. Null
 * where nothing meets its conditions.
 */
export type Solve = (lp: string) => { columns: Record<string, number>; prices: Record<string, number> } | null

/** Units that want the same from the same shelves and matter as much: the solver need not tell them apart. */
interface Alike {
  members: number[]
  importance: 1 | 2 | 3
  demands: UnitDemand[]
}

/**
 * The units to build: the most there can be; among those choices the one with most units of the first class, then of
 * the second. Between equals the unit that stands first. `among` leaves other units out.
 *
 * One unit of a better class weighs more than all of the lesser ones together, and one unit more of any class outweighs
 * every preference: one program with these weights answers as three solved in turn would.
 */
export function mostUnits(model: Model, solve: Solve, among?: ReadonlySet<number>): Set<number> {
  const groups = alike(model, among)
  const possible = withoutEasy(groups, model)
  if (possible.every(({ demands }) => demands.length === 0)) return new Set(possible.flatMap(({ members }) => members))
  const all = possible.reduce((sum, { members }) => sum + members.length, 0)
  const inClass = { 1: all + 1, 2: 1, 3: 0 } as const
  const counts = solved(solve(program(possible, model, ({ importance }) => (all + 1) ** 2 + inClass[importance]))).columns
  const chosen = new Set(possible.flatMap(({ members }, index) => members.slice(0, Math.round(counts[`n${index}`] ?? 0))))
  invariant(areBuildable(model, chosen), 'what the solver chose can be built')
  return firstOfEquals(model, chosen, possible)
}

/** How many units there could be at most, whichever: quicker than choosing them. At least `known` can be. */
export function howMany(model: Model, solve: Solve, known = 0): number {
  const counted = countedAtOnce(model, known)
  if (counted !== null) return counted
  const groups = withoutEasy(alike(model, undefined), model)
  const count = (columns: Record<string, number>) => groups.reduce((sum, _, index) => sum + (columns[`n${index}`] ?? 0), 0)
  // By halves there could be more, never fewer: where that is no unit more than are known, nothing has to be searched.
  const byHalves = count(solved(solve(program(groups, model, () => 1, { isWhole: false }))).columns)
  if (Math.floor(byHalves + 1e-6) <= known) return known
  // To show that nothing beats what is known is quicker than to find that again.
  const better = solve(program(groups, model, () => 1, { least: known + 1 }))
  return better === null ? known : Math.round(count(better.columns))
}

/** How many units there could be, where no more than `known` are possible at all, or nothing is scarce; null where it has to be searched. */
export function countedAtOnce(model: Model, known: number): number | null {
  const groups = withoutEasy(alike(model, undefined), model)
  const all = groups.reduce((sum, { members }) => sum + members.length, 0)
  return all <= known || groups.every(({ demands }) => demands.length === 0) ? all : null
}

/**
 * Of some shelves one at most may be as full as it is in this model; the others have what they had before (`had`). The shelf of
 * which that lets more than `known` units be built, or null where none does: one search instead of one for each.
 */
export function whichShelfFrees(model: Model, had: ReadonlyMap<number, number>, known: number, solve: Solve): number | null {
  const groups = withoutEasy(alike(model, undefined), model, had)
  if (groups.length === 0) return null
  const found = solve(program(groups, model, () => 1, { least: known + 1, had }))
  if (found === null) return null
  return [...had.keys()].find((shelf) => Math.round(found.columns[`y${shelf}`] ?? 0) === 1) ?? null
}

function solved<T>(found: T | null): T {
  invariant(found !== null, 'to build nothing meets every condition')
  return found
}

/** What one piece more on each shelf would be worth, in units, if units could be built by halves: the dual of the relaxed program. */
export function pricesOf(model: Model, solve: Solve): number[] {
  const groups = withoutEasy(alike(model, undefined), model)
  if (groups.every(({ demands }) => demands.length === 0)) return model.shelves.map(() => 0)
  const { prices } = solved(solve(program(groups, model, () => 1, { isWhole: false })))
  return model.shelves.map(({ index }) => Math.abs(prices[`s${index}`] ?? 0))
}

function alike({ units, shelves }: Model, among: ReadonlySet<number> | undefined): Alike[] {
  const groups = new Map<string, Alike>()
  for (const [index, { unit, demands }] of units.entries()) {
    if (among && !among.has(index)) continue
    const enough = demands.every(
      ({ quantity, shelves: from }) => from.reduce((sum, shelf) => sum + (shelves[shelf]?.quantity ?? 0), 0) >= quantity,
    )
    if (!enough) continue
    const key = `${unit.importance} ${demands.map((one) => `${one.quantity}:${[...one.shelves].sort((a, b) => a - b)}`).sort()}`
    const group = groups.get(key)
    if (group) group.members.push(index)
    else groups.set(key, { members: [index], importance: unit.importance, demands })
  }
  return [...groups.values()]
}

/** Leaves out demands that can always be met: those of a shelf that has enough for all who might ever turn to it. */
function withoutEasy(groups: readonly Alike[], { shelves }: Model, had?: ReadonlyMap<number, number>): Alike[] {
  let left = groups.map((group) => ({ ...group }))
  for (;;) {
    const wanted = new Map<number, number>()
    for (const { members, demands } of left) {
      for (const { quantity, shelves: from } of demands) {
        for (const shelf of from) wanted.set(shelf, (wanted.get(shelf) ?? 0) + quantity * members.length)
      }
    }
    const ample = new Set(
      [...wanted].filter(([shelf, sum]) => (had?.get(shelf) ?? shelves[shelf]?.quantity ?? 0) >= sum).map(([shelf]) => shelf),
    )
    if (ample.size === 0) return left
    left = left.map((group) => ({ ...group, demands: group.demands.filter(({ shelves: from }) => !from.some((one) => ample.has(one))) }))
  }
}

/**
 * Whole numbers n of each group, and where a demand has a choice of shelves, amounts x from each. With n given the x
 * are a transport problem, so they need not be declared whole.
 */
function program(
  groups: readonly Alike[],
  { shelves }: Model,
  weight: (group: Alike) => number,
  { isWhole = true, least = 0, had }: { isWhole?: boolean; least?: number; had?: ReadonlyMap<number, number> } = {},
): string {
  const taken = new Map<number, string[]>()
  const take = (shelf: number, term: string) => taken.set(shelf, [...(taken.get(shelf) ?? []), term])
  const meets: string[] = []
  for (const [g, { demands }] of groups.entries()) {
    for (const [d, { quantity, shelves: from }] of demands.entries()) {
      const [only] = from
      if (from.length === 1 && only !== undefined) take(only, `${quantity} n${g}`)
      else {
        for (const shelf of from) take(shelf, `x${g}_${d}_${shelf}`)
        meets.push(` m${g}_${d}: ${from.map((shelf) => `x${g}_${d}_${shelf}`).join(' + ')} - ${quantity} n${g} >= 0`)
      }
    }
  }
  const full = (shelf: number) => shelves[shelf]?.quantity ?? 0
  const has = [...taken].map(([shelf, terms]) => {
    const before = had?.get(shelf)
    return before === undefined
      ? ` s${shelf}: ${terms.join(' + ')} <= ${full(shelf)}`
      : ` s${shelf}: ${terms.join(' + ')} - ${wantedOf(groups, shelf) - before} y${shelf} <= ${before}`
  })
  const oneOf = [...taken.keys()].filter((shelf) => had?.has(shelf)).map((shelf) => `y${shelf}`)
  const goal = groups.map((group, g) => `${weight(group)} n${g}`).join(' + ')
  const bounds = groups.map(({ members }, g) => ` 0 <= n${g} <= ${members.length}`)
  const whole = groups.map((_, g) => `n${g}`).join(' ')
  return [
    'Maximize',
    ` goal: ${goal}`,
    'Subject To',
    ...meets,
    ...has,
    ...(oneOf.length > 0 ? [` one: ${oneOf.join(' + ')} <= 1`] : []),
    ...(least > 0 ? [` least: ${groups.map((_, g) => `n${g}`).join(' + ')} >= ${least}`] : []),
    'Bounds',
    ...bounds,
    ...(isWhole ? ['General', ` ${whole}`] : []),
    ...(oneOf.length > 0 ? ['Binary', ` ${oneOf.join(' ')}`] : []),
    'End',
    '',
  ].join('\n')
}

/** All that is wanted of a shelf by whoever might turn to it. */
const wantedOf = (groups: readonly Alike[], shelf: number): number =>
  groups.reduce(
    (sum, { members, demands }) =>
      sum + members.length * demands.reduce((own, { quantity, shelves }) => own + (shelves.includes(shelf) ? quantity : 0), 0),
    0,
  )

/** Swaps a chosen unit for an earlier one that counts as much, as long as all can still be built: the answer then follows the maker's order. */
function firstOfEquals(model: Model, chosen: ReadonlySet<number>, groups: readonly Alike[]): Set<number> {
  const now = new Set(chosen)
  const groupOf = new Map(groups.flatMap((group) => group.members.map((member) => [member, group] as const)))
  const open = [...groupOf.keys()].filter((index) => !now.has(index)).sort((a, b) => a - b)
  for (const earlier of open) {
    const later = [...now]
      .filter((index) => index > earlier && groupOf.get(index)?.importance === groupOf.get(earlier)?.importance)
      .sort((a, b) => b - a)
    const tried = new Set<Alike | undefined>([groupOf.get(earlier)])
    for (const index of later) {
      const group = groupOf.get(index)
      if (tried.has(group)) continue
      tried.add(group)
      const swapped = new Set(now)
      swapped.delete(index)
      swapped.add(earlier)
      if (!areBuildable(model, swapped)) continue
      now.delete(index)
      now.add(earlier)
      break
    }
  }
  return now
}
