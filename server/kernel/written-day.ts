/** How banks and people write days. What can be read in two ways is asked about; it is never guessed. */

export type DayOrder = 'day first' | 'month first'

const MONTHS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec']

interface Numbers {
  first: number
  second: number
  year: number
}

/** "03/04/2027", "3-4-27": two numbers that could change places. Null for what is written unmistakably, or is no date. */
function twoWays(text: string): Numbers | null {
  const match = /^(\d{1,2})[/-](\d{1,2})[/-](\d{4}|\d{2})$/.exec(bare(text))
  return match ? { first: Number(match[1]), second: Number(match[2]), year: fullYear(match[3] ?? '') } : null
}

export type OrderFound = DayOrder | 'asked' | 'mixed' | 'not needed'

/** What all dates of a file together say of the order: a number above twelve decides, one each way contradicts. */
export function dayOrderOf(texts: readonly string[]): OrderFound {
  const pairs = texts.flatMap((text) => twoWays(text) ?? [])
  const dayFirst = pairs.some(({ first }) => first > 12)
  const monthFirst = pairs.some(({ second }) => second > 12)
  if (dayFirst && monthFirst) return 'mixed'
  if (dayFirst) return 'day first'
  if (monthFirst) return 'month first'
  return pairs.some(({ first, second }) => first !== second) ? 'asked' : 'not needed'
}

/** `2027-03-14` for a day as it is written, or null. */
export function readDay(text: string, order: DayOrder): string | null {
  const said = bare(text)
  const iso = /^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ].*)?$/.exec(said) ?? /^(\d{4})(\d{2})(\d{2})$/.exec(said)
  if (iso) return dayOf(Number(iso[1]), Number(iso[2]), Number(iso[3]))
  // With dots the day stands first wherever dots are used.
  const dots = /^(\d{1,2})\.(\d{1,2})\.(\d{4}|\d{2})$/.exec(said)
  if (dots) return dayOf(fullYear(dots[3] ?? ''), Number(dots[2]), Number(dots[1]))
  const named = /^(\d{1,2})[\s.-]*([a-z]{3})[a-z]*[\s.,-]*(\d{4}|\d{2})$/i.exec(said)
  if (named) return dayOf(fullYear(named[3] ?? ''), MONTHS.indexOf((named[2] ?? '').toLowerCase()) + 1, Number(named[1]))
  const pair = twoWays(said)
  if (!pair) return null
  const isDayFirst = order === 'day first'
  return dayOf(pair.year, isDayFirst ? pair.second : pair.first, isDayFirst ? pair.first : pair.second)
}

const bare = (text: string): string => text.normalize('NFKC').trim().replace(/^'/, '')

const fullYear = (written: string): number => (written.length === 4 ? Number(written) : 2000 + Number(written))

function dayOf(year: number, month: number, day: number): string | null {
  const at = new Date(Date.UTC(year, month - 1, day))
  const isReal = at.getUTCFullYear() === year && at.getUTCMonth() === month - 1 && at.getUTCDate() === day
  return isReal && year >= 2000 && year < 2100 ? at.toISOString().slice(0, 10) : null
}
