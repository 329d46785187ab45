import type { Verdict } from '#bench/units/verdict.rules'
import type { GaugePlaces } from '#paper/gauge.rules'

export { type GaugePlaces, type GaugeReading, placeGauge } from '#paper/gauge.rules'

export interface GaugeWords {
  name: string
  value: string
  limits: string
  doubt?: string | null
  verdict?: Verdict | null
}

/** The whole gauge as one sentence, for those who hear it. */
export function sayGauge({ name, value, limits, doubt, verdict }: GaugeWords, places: GaugePlaces): string {
  const give = doubt ? `, give or take ${doubt}` : ''
  const off = places.off === null ? '' : `, off the ${places.off} end of the scale`
  const end = verdict ? `: ${verdict}` : ''
  return `${name}: ${value}${give}${off}, ${limits}${end}.`
}

/** A figure as a person wrote it: what reckoning in binary leaves in the last places is not heard. */
export const sayFigure = (figure: number): number => Number(figure.toPrecision(12))

/** "limits 7.7 to 8.3 V", "at most 5 µV", "at least 15 dB", "exactly 8", "no limits". */
export function sayLimits(lower: number | null, upper: number | null, unit = ''): string {
  const u = unit ? ` ${unit}` : ''
  const [from, to] = [lower ?? 0, upper ?? 0].map(sayFigure)
  if (lower !== null && upper !== null) return lower === upper ? `exactly ${from}${u}` : `limits ${from} to ${to}${u}`
  if (upper !== null) return `at most ${to}${u}`
  if (lower !== null) return `at least ${from}${u}`
  return 'no limits'
}

/** The same in a table's few letters: "7.7 – 8.3", "−10 to 10", "≤ 5", "≥ 15", "= 16", "none". */
export function showLimits(lower: number | null, upper: number | null): string {
  const [from, to] = [lower, upper].map((limit) => String(limit).replace('-', '−'))
  if (lower !== null && upper !== null) return lower === upper ? `= ${from}` : `${from} ${lower < 0 ? 'to' : '–'} ${to}`
  if (upper !== null) return `≤ ${to}`
  return lower !== null ? `≥ ${from}` : 'none'
}
