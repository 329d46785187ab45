/** A sum of independent amounts on a grid: the chance of `start + k × step` is `mass[k]`. */
export interface OnGrid {
  start: number
  step: number
  mass: Float64Array
}

export interface Spread {
  least: number
  most: number
  /** The chance of this or less. */
  atMost(x: number): number
}

/** Puts each amount on the nearest point of the grid that begins at its least: it is off by half a step at most. */
export function onGrid({ least, most, atMost }: Spread, step: number): OnGrid {
  const cells = Math.max(1, Math.ceil((most - least) / step) + 1)
  const mass = new Float64Array(cells)
  let before = 0
  for (let k = 0; k < cells; k += 1) {
    const upTo = k === cells - 1 ? 1 : atMost(least + (k + 0.5) * step)
    mass[k] = Math.max(0, upTo - before)
    before = Math.max(before, upTo)
  }
  return { start: least, step, mass }
}

/** The sum of two on one grid. Its mass is exact; only what each was rounded by is carried along. */
export function add(a: OnGrid, b: OnGrid): OnGrid {
  const mass = new Float64Array(a.mass.length + b.mass.length - 1)
  const [short, long] = a.mass.length < b.mass.length ? [a.mass, b.mass] : [b.mass, a.mass]
  for (let i = 0; i < short.length; i += 1) {
    const weight = short[i] ?? 0
    if (weight === 0) continue
    for (let j = 0; j < long.length; j += 1) mass[i + j] = (mass[i + j] ?? 0) + weight * (long[j] ?? 0)
  }
  return { start: a.start + b.start, step: a.step, mass }
}

export const nothing = (step: number): OnGrid => ({ start: 0, step, mass: Float64Array.of(1) })

/** The chance that a sum is at least this. */
export function atLeast({ start, step, mass }: OnGrid, x: number): number {
  let chance = 0
  for (let k = Math.max(0, Math.ceil((x - start) / step - 1e-9)); k < mass.length; k += 1) chance += mass[k] ?? 0
  return Math.min(1, chance)
}

/** The least amount that with this chance is not passed. */
export function quantile({ start, step, mass }: OnGrid, chance: number): number {
  let sum = 0
  for (let k = 0; k < mass.length; k += 1) {
    sum += mass[k] ?? 0
    if (sum >= chance - 1e-12) return start + k * step
  }
  return start + (mass.length - 1) * step
}

export const meanOf = ({ start, step, mass }: OnGrid): number => mass.reduce((sum, weight, k) => sum + weight * (start + k * step), 0)

export function varianceOf(sum: OnGrid): number {
  const mean = meanOf(sum)
  return sum.mass.reduce((total, weight, k) => total + weight * (sum.start + k * sum.step - mean) ** 2, 0)
}

/** The chance that one of the left and one of the right together are at least this. */
export function bothAtLeast(left: OnGrid, right: OnGrid, x: number): number {
  const tail = new Float64Array(right.mass.length + 1)
  for (let k = right.mass.length - 1; k >= 0; k -= 1) tail[k] = (tail[k + 1] ?? 0) + (right.mass[k] ?? 0)
  let chance = 0
  for (let k = 0; k < left.mass.length; k += 1) {
    const needed = Math.ceil((x - left.start - k * left.step - right.start) / right.step - 1e-9)
    if (needed < tail.length) chance += (left.mass[k] ?? 0) * (tail[Math.max(0, needed)] ?? 0)
  }
  return Math.min(1, chance)
}
