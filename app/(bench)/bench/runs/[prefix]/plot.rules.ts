import type { GlanceCheck } from '#bench/faults/glance.contract'

const WIDE = 600
const EDGE = 24
const MIDDLE = 34
/** Dots nearer than this would hide each other. */
const NEAR = 12

export interface Plot {
  band: { from: number; to: number; lower: number | null; upper: number | null }
  mean: number
  /** One standard deviation to each side; null where there is none. */
  spread: { from: number; to: number } | null
  dots: { tag: string; x: number; y: number; fails: boolean; isApart: boolean }[]
}

/** Where everything stands on a strip 600 wide: the limits and every reading are in it, whatever lies outside. */
export function plotOf({
  lower,
  upper,
  nominal,
  readings,
  spread,
}: Pick<GlanceCheck, 'lower' | 'upper' | 'nominal' | 'readings' | 'spread'>): Plot {
  const known = [lower, upper, nominal, ...readings.map(({ value }) => value)].filter((value) => value !== null)
  const [least, most] = [Math.min(...known), Math.max(...known)]
  const room = (most - least || Math.abs(most) || 1) * 0.1
  const from = least - room
  const scale = (WIDE - 2 * EDGE) / (most - least + 2 * room)
  const at = (value: number) => Math.round((EDGE + (value - from) * scale) * 10) / 10
  const placed: Plot['dots'] = []
  for (const { tag, value, verdict, isApart } of [...readings].sort((a, b) => a.value - b.value)) {
    const x = at(value)
    const beside = placed.filter((one) => Math.abs(one.x - x) < NEAR).length
    const step = Math.ceil(beside / 2) * (beside % 2 === 0 ? 1 : -1)
    placed.push({ tag, x, y: MIDDLE + Math.max(-18, Math.min(18, step * 9)), fails: !verdict.startsWith('pass'), isApart })
  }
  const mean = spread?.mean ?? 0
  const deviation = spread?.deviation ?? null
  return {
    band: {
      from: lower === null ? 0 : at(lower),
      to: upper === null ? WIDE : at(upper),
      lower: lower === null ? null : at(lower),
      upper: upper === null ? null : at(upper),
    },
    mean: at(mean),
    spread: deviation === null ? null : { from: Math.max(0, at(mean - deviation)), to: Math.min(WIDE, at(mean + deviation)) },
    dots: placed,
  }
}
