import { Refusal } from '#kernel/refusal'
import type { Postage } from './lots.contract'

export const EVERYWHERE_ELSE = '*'

/** Reads "GB, IE, no" or "everywhere else" at a field; refuses in words what is neither. */
export function readCountries(text: string, field: string): string[] {
  const bare = text.normalize('NFKC').trim()
  if (bare === '') throw Refusal.at(field, 'Name the countries by their two letters, such as GB, IE, or write "everywhere else".')
  if (bare === EVERYWHERE_ELSE || /^(everywhere|anywhere|rest)/i.test(bare)) return [EVERYWHERE_ELSE]
  const codes = bare
    .toUpperCase()
    .split(/[\s,;]+/)
    .filter(Boolean)
  const wrong = codes.find((code) => !/^[A-Z]{2}$/.test(code))
  if (wrong) throw Refusal.at(field, `"${wrong.slice(0, 20)}" is not a country's two letters. Write them like GB, IE, NO.`)
  return [...new Set(codes)]
}

export const showCountries = (countries: readonly string[]): string =>
  countries.includes(EVERYWHERE_ELSE) ? 'everywhere else' : countries.join(', ')

/** What sending to a country costs: the line that names it, or the one for everywhere else; null when it is not sent there. */
export const postageTo = (postage: readonly Postage[], country: string): Postage | null =>
  postage.find(({ countries }) => countries.includes(country)) ??
  postage.find(({ countries }) => countries.includes(EVERYWHERE_ELSE)) ??
  null
