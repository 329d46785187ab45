import { readValue, showValue, type ValueUnit } from '../catalogue/value.rules'

const UNITS: readonly ValueUnit[] = ['Ω', 'F', 'H', 'Hz', 'A', 'V']
const MOST_WORDS = 8

/**
 * What to look for: each word must be found, as it was typed or as a value in its one form: "0.1uF", "104" and "100n"
 * all find 100 nF. Values stand in the house's line of words between brackets.
 */
export function searchWords(typed: string): string[][] {
  const written = typed.normalize('NFKC').trim()
  if (written === '') return []
  // A value may be written with a blank, "10 µF": then the two words are one.
  const joined = written.replaceAll(/(\d)\s+(?=[pnuµμmkKM]?(?:F|H|Hz|Ω|ohm|A|V)\b)/g, '$1')
  return joined
    .split(/\s+/)
    .slice(0, MOST_WORDS)
    .map((word) => [...new Set([lower(word), ...valuesOf(word)])])
}

const valuesOf = (word: string): string[] =>
  /\d/.test(word)
    ? UNITS.flatMap((unit) => {
        const reading = readValue(word, unit)
        return reading.ok ? [`[${lower(showValue(reading.value))}`] : []
      })
    : []

/** As SQLite's lower(): the letters A to Z only. */
const lower = (text: string) => text.replaceAll(/[A-Z]/g, (letter) => letter.toLowerCase())
