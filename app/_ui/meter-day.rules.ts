import type { Instant } from '#kernel/instant'
import { type Currency, type Minor, showMoney } from '#kernel/money'
import { civilIn, sayTime } from '#kernel/wall-clock'
import type { DayPoint } from '#money/pictures/day.rules'
import type { DayFrame } from '#money/pictures/pictures.contract'

const HOUR = 3_600_000

export type DayLayer = 'paid' | 'won' | 'bid'

export interface DayPlot {
  /** Outlines in per cent of the plot, the lowest layer first: each lies upon the one before it. */
  layers: { layer: DayLayer; outline: [x: number, y: number][] }[]
  topMinor: Minor
  /** Heights in per cent from above. */
  targetAt: number
  levels: { amountMinor: Minor; at: number }[]
  hours: { words: string; at: number }[]
  closes: { lot: number; at: number; words: string; row: number }[]
  /** Where the day has come to; 100 when it is over. */
  nowAt: number
}

/** The present end of the line: what the meter says now, so that a bid shows before the day's next frame. */
export function withNow(points: readonly DayPoint[], now: DayPoint): DayPoint[] {
  return [...points.filter(({ at }) => at < now.at), now]
}

export function plotDay(day: DayFrame, points: readonly DayPoint[]): DayPlot {
  const sums = points.map(({ bidMinor, wonMinor, paidMinor }) => bidMinor + wonMinor + paidMinor)
  const topMinor = Math.max(1, day.targetMinor, ...sums) * 1.08
  const x = (at: Instant) => (100 * (Math.min(at, day.toAt) - day.fromAt)) / Math.max(1, day.toAt - day.fromAt)
  const y = (minor: Minor) => 100 - (100 * minor) / topMinor
  const band = (layer: DayLayer, from: (point: DayPoint) => Minor, to: (point: DayPoint) => Minor) => ({
    layer,
    outline: [...stairs(points, x, (point) => y(to(point))), ...stairs(points, x, (point) => y(from(point))).reverse()],
  })
  const rows: number[] = []
  return {
    layers: [
      band(
        'paid',
        () => 0,
        ({ paidMinor }) => paidMinor,
      ),
      band(
        'won',
        ({ paidMinor }) => paidMinor,
        ({ paidMinor, wonMinor }) => paidMinor + wonMinor,
      ),
      band(
        'bid',
        ({ paidMinor, wonMinor }) => paidMinor + wonMinor,
        ({ paidMinor, wonMinor, bidMinor }) => paidMinor + wonMinor + bidMinor,
      ),
    ],
    topMinor,
    targetAt: y(day.targetMinor),
    levels: levelsTo(topMinor).map((amountMinor) => ({ amountMinor, at: y(amountMinor) })),
    hours: hoursOf(day).map((at) => ({ words: sayTime(civilIn(at, day.zone)), at: x(at) })),
    closes: day.closes.map(({ lot, at }) => {
      // Closes that lie together stand in rows, so that no number covers another.
      let row = rows.findIndex((last) => x(at) - last >= 5)
      if (row < 0) row = rows.length
      rows[row] = x(at)
      return { lot, at: x(at), words: sayTime(civilIn(at, day.zone)), row }
    }),
    nowAt: x(points.at(-1)?.at ?? day.fromAt),
  }
}

/** Level from one point to the next, then up or down at once. */
function stairs(points: readonly DayPoint[], x: (at: Instant) => number, y: (point: DayPoint) => number): [number, number][] {
  return points.flatMap((point, index): [number, number][] => {
    const next = points[index + 1]
    const here: [number, number] = [x(point.at), y(point)]
    return next ? [here, [x(next.at), y(point)]] : [here]
  })
}

/** Round amounts for the scale: 1, 2 or 5 at the head, at most five of them. */
export function levelsTo(topMinor: Minor): Minor[] {
  const rough = topMinor / 5
  const ten = 10 ** Math.floor(Math.log10(Math.max(1, rough)))
  const step = Math.max(1, ([1, 2, 5, 10].find((head) => head * ten >= rough) ?? 10) * ten)
  return Array.from({ length: Math.floor(topMinor / step) }, (_, index) => (index + 1) * step)
}

function hoursOf({ fromAt, toAt }: DayFrame): Instant[] {
  const every = Math.max(1, Math.ceil((toAt - fromAt) / HOUR / 6)) * HOUR
  const first = Math.ceil(fromAt / HOUR) * HOUR
  return Array.from({ length: Math.max(0, Math.floor((toAt - first) / every) + 1) }, (_, index) => first + index * every)
}

/** "At 16:40 £780: £150 paid, £240 won, £390 in bids." */
export function sayDay(point: DayPoint | undefined, day: DayFrame, currency: Currency): string {
  if (!point) return 'The day has not begun.'
  const show = (minor: Minor) => showMoney(minor, currency, { short: true })
  const { paidMinor, wonMinor, bidMinor } = point
  const parts = `${show(paidMinor)} paid, ${show(wonMinor)} won, ${show(bidMinor)} in bids`
  const closes = day.closes.length === 1 ? 'one lot is over' : `${day.closes.length} lots are over`
  return `At ${sayTime(civilIn(point.at, day.zone))} ${show(paidMinor + wonMinor + bidMinor)} of ${show(day.targetMinor)} counts: ${parts}; ${closes}.`
}
