import type { VitalView } from '#people/vitals/vitals.contract'

export interface Shown {
  value: number
  lower: number | null
  upper: number | null
  unit: string
  /** With its unit, as it is read: "12 ms". */
  shown: string
}

const MEGABYTE = 1024 ** 2
const SECONDS_IN_AN_HOUR = 3_600

interface Scale {
  by: number
  unit: string
}

/** A figure in a unit in which it and its limit are easy to read; null where there is none. Without a limit there is no gauge to draw. */
export function figureOf({ value, unit, limits }: Pick<VitalView, 'value' | 'unit' | 'limits'>): Shown | null {
  if (value === null || (limits.lower === null && limits.upper === null)) return null
  const scale = scaleOf(unit, Math.abs(limits.upper ?? limits.lower ?? 0))
  const scaled = (figure: number | null) => (figure === null ? null : round(figure / scale.by))
  const shown = round(value / scale.by)
  return {
    value: shown,
    lower: scaled(limits.lower),
    upper: scaled(limits.upper),
    unit: scale.unit,
    shown: `${shown.toLocaleString('en')}${scale.unit ? ` ${scale.unit}` : ''}`,
  }
}

function scaleOf(unit: VitalView['unit'], limit: number): Scale {
  if (unit === 'bytes') return { by: MEGABYTE, unit: 'MB' }
  if (unit === 'count') return { by: 1, unit: '' }
  if (limit >= SECONDS_IN_AN_HOUR) return { by: SECONDS_IN_AN_HOUR, unit: 'h' }
  if (limit >= 300) return { by: 60, unit: 'min' }
  return limit <= 1 ? { by: 0.001, unit: 'ms' } : { by: 1, unit: 's' }
}

/** To three digits that say something. */
const round = (figure: number): number => (Math.abs(figure) >= 100 ? Math.round(figure) : Number(figure.toPrecision(3)))
