import type { Check } from './design.contract'

/** "8.00 V", "−12.0 V", "50 %": a figure in the checklist's own decimals, minus as U+2212. */
export function figureWords(value: number, { unit, decimals }: { unit: string; decimals: number }): string {
  const text = value.toFixed(Math.min(decimals, 12)).replace('-', '−')
  return unit === '' ? text : `${text} ${unit}`
}

type Limited = Pick<Check, 'kind' | 'lower' | 'upper' | 'unit' | 'decimals' | 'soakHours' | 'coldStarts' | 'expects'>

/** The limits of a check in words: "7.70 to 8.30 V", "at least 0.50 kΩ", "exactly 64", "24 h and 6 cold starts without a fault". */
export function limitWords(check: Limited): string {
  const { kind, lower, upper, unit, decimals } = check
  if (kind === 'yesno') return 'yes'
  if (kind === 'match') return check.expects?.length === 64 ? 'the same SHA-256, to the last digit' : (check.expects ?? 'an exact match')
  if (kind === 'soak') {
    const starts = check.coldStarts ? ` and ${check.coldStarts} cold starts` : ''
    return `${check.soakHours ?? 0} h${starts} without a fault`
  }
  const bare = (value: number) => figureWords(value, { unit: '', decimals })
  if (lower !== null && upper !== null)
    return lower === upper ? `exactly ${figureWords(lower, check)}` : `${bare(lower)} to ${bare(upper)} ${unit}`.trim()
  if (lower !== null) return `at least ${figureWords(lower, check)}`
  return upper === 0 ? `no ${unit}` : `at most ${figureWords(upper ?? 0, check)}`
}
