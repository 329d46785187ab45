import { civilDayOf } from '#kernel/civil'
import { HOUR, type Instant, MINUTE } from '#kernel/instant'
import { civilIn, sayDay } from '#kernel/wall-clock'

interface Worked {
  by: string
  from: Instant
  to: Instant
}

export interface DayRow {
  day: string
  words: string
  minutes: number
  /** In per cent of the hours that are drawn. */
  bars: { by: string; left: number; width: number }[]
}

export interface DayTable {
  /** Whole hours of the day, from and to; the same for every row, so that mornings and evenings show. */
  fromHour: number
  toHour: number
  rows: DayRow[]
}

/** Work day by day in the zone, each on a line of the same hours. What goes past midnight stands on both days. */
export function daysOf(stretches: readonly Worked[], zone: string): DayTable {
  const pieces = stretches.flatMap((stretch) => byDay(stretch, zone))
  const fromHour = Math.floor(Math.min(24, ...pieces.map(({ start }) => start / HOUR)))
  const toHour = Math.max(fromHour + 1, Math.ceil(Math.max(0, ...pieces.map(({ end }) => end / HOUR))))
  const span = (toHour - fromHour) * HOUR
  const rows = new Map<string, DayRow>()
  for (const { day, at, by, start, end } of pieces) {
    const row = rows.get(day) ?? { day, words: sayDay(civilIn(at, zone)), minutes: 0, bars: [] }
    row.minutes += (end - start) / MINUTE
    row.bars.push({ by, left: (100 * (start - fromHour * HOUR)) / span, width: (100 * (end - start)) / span })
    rows.set(day, row)
  }
  const sorted = [...rows.values()].sort((a, b) => (a.day < b.day ? -1 : 1))
  return { fromHour, toHour, rows: sorted.map((row) => ({ ...row, minutes: Math.round(row.minutes) })) }
}

function byDay({ by, from, to }: Worked, zone: string) {
  const pieces: { day: string; at: Instant; by: string; start: number; end: number }[] = []
  let at = from
  while (at < to) {
    const whole = civilDayOf(at, zone)
    const end = Math.min(to, whole.to)
    pieces.push({ day: whole.day, at, by, start: at - whole.from, end: end - whole.from })
    at = end
  }
  return pieces
}
