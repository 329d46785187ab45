import { Refusal } from './refusal'

/** Money is an integer of minor units (pence, cents, yen) and never a float. */
export type Minor = number

/** ISO 4217 codes the house knows, with the exponent of the minor unit. Not from Intl, which differs for HUF, IDR, IQD, MGA. */
export const CURRENCIES = {
  GBP: { exponent: 2, sign: '£' },
  EUR: { exponent: 2, sign: '€' },
  USD: { exponent: 2, sign: '$' },
  CAD: { exponent: 2, sign: 'CA$' },
  AUD: { exponent: 2, sign: 'A$' },
  NZD: { exponent: 2, sign: 'NZ$' },
  CHF: { exponent: 2, sign: 'CHF ' },
  SEK: { exponent: 2, sign: 'SEK ' },
  NOK: { exponent: 2, sign: 'NOK ' },
  DKK: { exponent: 2, sign: 'DKK ' },
  PLN: { exponent: 2, sign: 'PLN ' },
  CZK: { exponent: 2, sign: 'CZK ' },
  HUF: { exponent: 2, sign: 'HUF ' },
  JPY: { exponent: 0, sign: '¥' },
  KRW: { exponent: 0, sign: '₩' },
  ISK: { exponent: 0, sign: 'ISK ' },
  KWD: { exponent: 3, sign: 'KWD ' },
  BHD: { exponent: 3, sign: 'BHD ' },
  TND: { exponent: 3, sign: 'TND ' },
} as const

export type Currency = keyof typeof CURRENCIES

export const CURRENCY_CODES = Object.keys(CURRENCIES) as [Currency, ...Currency[]]

/** The largest amount that is taken anywhere: a thousand million major units at exponent 2. */
export const MOST_MINOR = 100_000_000_000

/** "165.00" from 16500 in GBP; no sign, no grouping: the form that `parseMoney` reads back. */
export function plainMoney(amount: Minor, currency: Currency): string {
  const { exponent } = CURRENCIES[currency]
  const digits = Math.abs(amount)
    .toString()
    .padStart(exponent + 1, '0')
  const whole = digits.slice(0, digits.length - exponent)
  const fraction = exponent > 0 ? `.${digits.slice(-exponent)}` : ''
  return `${amount < 0 ? '-' : ''}${whole}${fraction}`
}

/** "£1,240.00", or "£1,240" when `short` and the minor part is nought. Minus is U+2212. */
export function showMoney(amount: Minor, currency: Currency, { short = false } = {}): string {
  const [whole = '0', fraction] = plainMoney(Math.abs(amount), currency).split('.')
  const groups: string[] = []
  for (let end = whole.length; end > 0; end -= 3) groups.unshift(whole.slice(Math.max(0, end - 3), end))
  const tail = fraction === undefined || (short && /^0+$/.test(fraction)) ? '' : `.${fraction}`
  return `${amount < 0 ? '−' : ''}${CURRENCIES[currency].sign}${groups.join(',')}${tail}`
}

/** A digit that is not 0 to 9 nor its full-width form, or a sign such as ² or ½ that would become one. */
const OTHER_DIGIT = /(?![0-9０-９])[\p{Nd}\p{No}\p{Nl}]/u

/**
 * Reads an amount as people type it: "210", "£210.00", "1,240.50", "210,50", "8.000,50", full-width digits.
 * Refuses at `field`, in words, whatever is not one amount of that currency: exponents, signs,
 * other digits, too many decimals, more than `MOST_MINOR`.
 */
export function parseMoney(text: string, currency: Currency, field: string): Minor {
  const { exponent, sign } = CURRENCIES[currency]
  const example = exponent > 0 ? `210.${'0'.repeat(exponent)}` : '210'
  // Made plain, "10²" would be 102: whoever wrote it meant something else.
  if (OTHER_DIGIT.test(text)) throw Refusal.at(field, `Write the amount in the digits 0 to 9, such as ${example}.`)
  const bare = text
    .normalize('NFKC')
    .trim()
    .replace(sign.trim(), '')
    .replace(currency, '')
    .replaceAll(/[\s\u00a0']/g, '')
  if (bare === '') throw Refusal.at(field, `Write an amount, such as ${example}.`)
  if (/^[-−]/.test(bare)) throw Refusal.at(field, `Write an amount above zero, such as ${example}.`)
  // "8.000" is eight for one reader and eight thousand for another: who wrote it says which.
  if (exponent > 0 && exponent < 3 && /^[1-9]\d{0,2}\.000$/.test(bare))
    throw Refusal.at(field, `Write ${bare.replace('.', '')} or ${bare.slice(0, -4)}.${'0'.repeat(exponent)}: it could be either.`)
  const match =
    /^(\d{1,3}(?:,\d{3})+|\d+)(?:[.](\d+))?$/.exec(bare) ??
    /^(\d+),(\d{1,2})$/.exec(bare) ??
    /^(\d{1,3}(?:\.\d{3})+),(\d{1,2})$/.exec(bare) ??
    /^(\d{1,3}(?:\.\d{3}){2,})$/.exec(bare)
  if (!match) throw Refusal.at(field, `"${text.slice(0, 40)}" is not an amount. Write it like ${example}.`)
  const [, whole = '', fraction = ''] = match
  if (fraction.length > exponent && /[^0]/.test(fraction.slice(exponent))) {
    throw Refusal.at(
      field,
      exponent > 0
        ? `${currency} has ${exponent} decimals. Write it like ${example}.`
        : `${currency} has no decimals. Write it like ${example}.`,
    )
  }
  const digits = whole.replaceAll(/[.,]/g, '') + fraction.slice(0, exponent).padEnd(exponent, '0')
  const amount = Number(digits)
  if (digits.length > 15 || amount > MOST_MINOR) throw Refusal.at(field, 'That is more than can be taken here. Check the amount.')
  return amount
}

/**
 * Splits `total` by `weights` without losing a penny: largest remainder (Hamilton), remainders
 * compared exactly, ties to the earlier. Weights are non-negative integers, not all zero.
 */
export function splitMoney(total: Minor, weights: readonly number[]): Minor[] {
  const sum = weights.reduce((a, b) => a + BigInt(b), 0n)
  const exact = weights.map((weight) => BigInt(total) * BigInt(weight))
  const floors = exact.map((share) => share / sum)
  let left = BigInt(total) - floors.reduce((a, b) => a + b, 0n)
  const order = exact
    .map((share, index) => ({ index, rest: share % sum }))
    .sort((a, b) => (a.rest === b.rest ? a.index - b.index : a.rest > b.rest ? -1 : 1))
  for (const { index } of order) {
    if (left <= 0n) break
    floors[index] = (floors[index] ?? 0n) + 1n
    left -= 1n
  }
  return floors.map(Number)
}
