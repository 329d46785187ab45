import { CURRENCIES, CURRENCY_CODES, type Currency, type Minor, MOST_MINOR, showMoney } from './money'

/** How banks and people write amounts: comma or point, minus before or behind, brackets, letters for what went out. */

/** An amount in the currency of its line, which may be none that the house knows. */
export const shownMoney = (minor: Minor, code: string, books: Currency): string =>
  code === ''
    ? showMoney(minor, books)
    : showMoney(minor, CURRENCY_CODES.find((one) => one === code) ?? books).replace(/^[^\d−]*/, `${code} `)

export type DecimalMark = 'comma' | 'point'

interface Parts {
  digits: string
  isMinus: boolean
  /** A currency that stands in the cell, by its code or its sign. */
  currency: string | null
  /** Something else stands in the cell. */
  isOdd: boolean
}

const SIGNS: [string, readonly string[]][] = [
  ['US$', ['USD']],
  ['CA$', ['CAD']],
  ['NZ$', ['NZD']],
  ['A$', ['AUD']],
  ['$', ['USD', 'CAD', 'AUD', 'NZD']],
  ['£', ['GBP']],
  ['€', ['EUR']],
  ['¥', ['JPY']],
  ['₩', ['KRW']],
]

/** What banks write behind an amount that came in or went out. */
const CAME = /(CR|HABEN|H|C)$/
const WENT = /(DR|SOLL|S|D)$/

/** A currency's code with no letter beside it. */
const CODES_ALONE = CURRENCY_CODES.map((code) => ({ code, alone: new RegExp(`(?<![A-Z])${code}(?![A-Z])`) }))

/** An amount with its thousands grouped or not, and one that begins with the mark: by the mark before the fraction. */
const FIGURES = { comma: patternsOf('.', ','), point: patternsOf(',', '.') }

function patternsOf(group: string, decimal: string) {
  return {
    figure: new RegExp(`^(\\d{1,3}(?:\\${group}\\d{3})+|\\d+)(?:\\${decimal}(\\d+))?$`),
    fractionAlone: new RegExp(`^()\\${decimal}(\\d+)$`),
  }
}

function partsOf(text: string): Parts {
  const said = text
    .normalize('NFKC')
    .replaceAll(/[\s\u00a0'’]/g, '')
    .replaceAll('−', '-')
    .toUpperCase()
  const code = CODES_ALONE.find(({ alone }) => alone.test(said))?.code ?? null
  const sign = SIGNS.find(([one]) => said.includes(one)) ?? null
  const bare = said.replace(code ?? '\0', '').replace(sign?.[0] ?? '\0', '')
  const isMinus = bare.startsWith('-') || bare.endsWith('-') || /^\(.*\)$/.test(bare) || (WENT.test(bare) && !CAME.test(bare))
  const figures = bare
    .replace(CAME, '')
    .replace(WENT, '')
    .replaceAll(/[-+()]/g, '')
  return {
    digits: figures.replaceAll(/[^0-9.,]/g, ''),
    isMinus,
    isOdd: /[^0-9.,]/.test(figures),
    currency: code ?? sign?.[1].join(' or ') ?? null,
  }
}

/** Which mark parts the whole from the rest in a column; null where the cells contradict each other. */
export function decimalMarkOf(texts: readonly string[], currency: Currency): DecimalMark | null {
  const { exponent } = CURRENCIES[currency]
  const votes = new Set(
    texts.flatMap((text): DecimalMark[] => {
      const { digits } = partsOf(text)
      const comma = digits.lastIndexOf(',')
      const point = digits.lastIndexOf('.')
      if (comma >= 0 && point >= 0) return [comma > point ? 'comma' : 'point']
      const at = Math.max(comma, point)
      if (at < 0) return []
      const mark = comma >= 0 ? ',' : '.'
      const behind = digits.length - at - 1
      // 1.234.567: the same mark twice groups thousands. 1,234 with two decimals in the currency groups too.
      if (digits.indexOf(mark) !== at || (behind === 3 && exponent !== 3)) return [mark === ',' ? 'point' : 'comma']
      return [mark === ',' ? 'comma' : 'point']
    }),
  )
  if (votes.size > 1) return null
  return votes.values().next().value ?? 'point'
}

/** `inOther`: the cell names another currency, which is why it was not read. */
export type AmountRead = { amountMinor: Minor } | { words: string; inOther?: string }

/** One cell in the campaign's currency. */
export function readAmount(text: string, currency: Currency, mark: DecimalMark): AmountRead {
  const { digits, isMinus, isOdd, currency: named } = partsOf(text)
  if (named !== null && !named.split(' or ').includes(currency))
    return { words: `This line is in ${named}; the books are in ${currency}. Export the account in ${currency} alone.`, inOther: named }
  const { exponent } = CURRENCIES[currency]
  const group = mark === 'comma' ? '.' : ','
  const { figure, fractionAlone } = FIGURES[mark]
  const match = figure.exec(digits) ?? fractionAlone.exec(digits)
  if (!match || isOdd) return { words: `"${text.slice(0, 40)}" is not an amount. Check what this column is used for.` }
  const fraction = match[2] ?? ''
  if (/[^0]/.test(fraction.slice(exponent))) return { words: `"${text.slice(0, 40)}" has more decimals than ${currency} knows.` }
  const amount = Number((match[1] ?? '').replaceAll(group, '') + fraction.slice(0, exponent).padEnd(exponent, '0'))
  if (amount > MOST_MINOR) return { words: 'That is more than can be taken here. Check the amount.' }
  return { amountMinor: isMinus ? -amount || 0 : amount }
}

/** "Amount (USD)": a currency in a heading. */
export function currencyIn(heading: string): Currency | null {
  const words = heading.toUpperCase().split(/[^A-Z]+/)
  return CURRENCY_CODES.find((code) => words.includes(code)) ?? null
}
