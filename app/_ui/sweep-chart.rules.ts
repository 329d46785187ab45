import type { Sweep } from '#bench/units/sweep.rules'

export interface SweepPlot {
  /** Each line as points in percent of the plot, x from the left and y from the top. */
  lines: { name: string; points: [number, number][] }[]
  across: { shown: string; at: number }[]
  up: { shown: string; at: number }[]
}

/** Where the points of a sweep lie, and round figures beside both scales. */
export function plotSweep({ at, lines, isByDecades }: Sweep): SweepPlot {
  const scale = (value: number) => (isByDecades ? Math.log10(value) : value)
  const [from, to] = [scale(at[0] ?? 0), scale(at.at(-1) ?? 1)]
  const values = lines.flatMap((line) => line.values)
  const [least, greatest] = values.reduce(([low, high], value) => [Math.min(low, value), Math.max(high, value)], [Infinity, -Infinity])
  const room = greatest === least ? Math.max(1, Math.abs(greatest) / 10) : (greatest - least) / 20
  const [bottom, top] = [least - room, greatest + room]
  const x = (value: number) => (to === from ? 50 : ((scale(value) - from) / (to - from)) * 100)
  const y = (value: number) => 100 - ((value - bottom) / (top - bottom)) * 100
  return {
    lines: lines.map(({ name, values }) => ({ name, points: values.map((value, index) => [x(at[index] ?? 0), y(value)]) })),
    across: (isByDecades ? decades(from, to) : roundFigures(from, to)).map((value) => ({ shown: sayShort(value), at: x(value) })),
    up: roundFigures(bottom, top).map((value) => ({ shown: sayShort(value), at: y(value) })),
  }
}

const decades = (from: number, to: number): number[] =>
  Array.from({ length: Math.floor(to) - Math.ceil(from) + 1 }, (_, index) => 10 ** (Math.ceil(from) + index))

/** Three to six round figures between two. */
function roundFigures(from: number, to: number): number[] {
  const rough = (to - from) / 4
  const power = 10 ** Math.floor(Math.log10(rough))
  const step = [1, 2, 5, 10].map((times) => times * power).find((one) => one >= rough) ?? power
  const first = Math.ceil(from / step)
  return Array.from({ length: Math.floor(to / step) - first + 1 }, (_, index) => Number(((first + index) * step).toPrecision(6)))
}

const PREFIXES = [
  [1e9, 'G'],
  [1e6, 'M'],
  [1e3, 'k'],
  [1, ''],
  [1e-3, 'm'],
  [1e-6, 'µ'],
  [1e-9, 'n'],
] as const

/** "20 k", "0.5", "3 m". */
export function sayShort(value: number): string {
  const size = Math.abs(value)
  if (size === 0 || (size >= 0.01 && size < 10_000)) return String(Number(value.toPrecision(4)))
  const [unit, prefix] = PREFIXES.find(([least]) => size >= least) ?? [1e-12, 'p']
  return `${Number((value / unit).toPrecision(4))}${prefix === '' ? '' : ` ${prefix}`}`
}

/** What a chart says to somebody who cannot see it. */
export function saySweep({ across, rows, at, lines }: Sweep): string {
  const each = lines.map(({ name, values }) => {
    const greatest = values.indexOf(Math.max(...values))
    const least = values.indexOf(Math.min(...values))
    return `${name} from ${sayShort(values[least] ?? 0)} (at ${sayShort(at[least] ?? 0)}) to ${sayShort(values[greatest] ?? 0)} (at ${sayShort(at[greatest] ?? 0)})`
  })
  return `${rows} points, ${across} from ${sayShort(at[0] ?? 0)} to ${sayShort(at.at(-1) ?? 0)}: ${each.join('; ')}.`
}
