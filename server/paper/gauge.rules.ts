import { invariant } from '#kernel/invariant'

export interface GaugeReading {
  value: number
  lower?: number | null
  upper?: number | null
  nominal?: number | null
  /** Expanded uncertainty U, in the unit of the value. */
  doubt?: number | null
}

/** What a gauge can say of a value. */
export type GaugeVerdict = 'pass' | 'pass within doubt' | 'fail within doubt' | 'fail'

export type GaugeOpening = 'closed' | 'open-below' | 'open-above' | 'no-limits'

/** Places along the gauge as fractions, 0 its left end and 1 its right. */
export interface GaugePlaces {
  opening: GaugeOpening
  lower: number | null
  upper: number | null
  nominal: number | null
  /** Kept inside the gauge; `off` says that the true place is beyond that end. */
  value: number
  off: 'low' | 'high' | null
  doubt: { from: number; to: number } | null
}

const BAND_FROM = 0.25
const BAND_TO = 0.75

/**
 * Where everything stands. The pass band always fills the middle half, so that a column of gauges
 * is read at a glance whatever the units. With one limit the middle stands for the nominal; when
 * there is none on the permitted side, the band's other edge stands for zero under an upper limit,
 * for twice the limit above a lower one, and for one unit away when the limit is zero or lies on
 * the far side of it.
 */
export function placeGauge(reading: GaugeReading): GaugePlaces {
  const { value, lower = null, upper = null, nominal = null, doubt = null } = reading
  invariant(!Number.isNaN(value), 'a gauge is given a number')
  invariant(lower === null || upper === null || lower <= upper, 'a lower limit is not above the upper one')
  const opening = openingOf(lower, upper)
  const [zero, span] = scaleOf(reading)
  const place = (at: number) => BAND_FROM + ((at - zero) / span) * (BAND_TO - BAND_FROM)
  const at = place(value)
  const inside = (fraction: number) => Math.min(1, Math.max(0, fraction))
  const nominalAt = nominal === null ? null : place(nominal)
  return {
    opening,
    lower: lower === null ? null : place(lower),
    upper: upper === null ? null : place(upper),
    nominal: nominalAt !== null && nominalAt >= 0 && nominalAt <= 1 ? nominalAt : null,
    value: inside(at),
    off: at < 0 ? 'low' : at > 1 ? 'high' : null,
    doubt: doubt !== null && doubt > 0 ? { from: inside(place(value - doubt)), to: inside(place(value + doubt)) } : null,
  }
}

function openingOf(lower: number | null, upper: number | null): GaugeOpening {
  if (lower !== null) return upper !== null ? 'closed' : 'open-above'
  return upper !== null ? 'open-below' : 'no-limits'
}

/** The reading at the band's left edge, and how much of the unit the band spans. */
function scaleOf({ value, lower = null, upper = null, nominal = null }: GaugeReading): [zero: number, span: number] {
  if (lower !== null && upper !== null) {
    // One exact figure: it stands in the middle, and the band reaches two either side.
    return upper > lower ? [lower, upper - lower] : [lower - 2, 4]
  }
  if (upper !== null) {
    const span = nominal !== null && nominal < upper ? 2 * (upper - nominal) : upper > 0 ? upper : awayFrom(upper)
    return [upper - span, span]
  }
  if (lower !== null) {
    const span = nominal !== null && nominal > lower ? 2 * (nominal - lower) : awayFrom(lower)
    return [lower, span]
  }
  const middle = nominal ?? (Number.isFinite(value) ? value : 0)
  const reach = awayFrom(middle)
  return [middle - reach / 2, reach]
}

const awayFrom = (limit: number) => Math.abs(limit) || 1
