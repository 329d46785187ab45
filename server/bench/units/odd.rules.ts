import type { Check } from '../designs/design.contract'
import type { Entry } from './entry.rules'

/** By how many decades a reading may be off its nominal before it is asked about. */
const ODD_DECADES = 5

/** A reading that is hardly what the meter showed, as a question; null where there is nothing to ask. */
export function oddity({ value, shown }: Entry, { nominal, lower, upper, unit }: Check): string | null {
  if (value < 0 && /^[pnµmkMG]?(?:Ω|F|Hz|s)$/.test(unit)) return `${shown}: nothing has less than 0 ${unit}. Is that what it shows?`
  if (nominal === null || nominal === 0 || value === 0) return null
  // Around a nought that only an upper limit bounds, either sign is a small figure and no slip.
  const isTurned = (value < 0 && nominal > 0 && lower !== null && lower >= 0) || (value > 0 && nominal < 0 && upper !== null && upper <= 0)
  if (isTurned && !/^dB|°C|ppm|cents/.test(unit)) {
    return `${shown}, where ${nominal} ${unit} is expected: is the sign right?`
  }
  const decades = Math.abs(Math.log10(Math.abs(value / nominal)))
  return decades >= ODD_DECADES ? `${shown}, where ${nominal} ${unit} is expected: is that what it shows?` : null
}
