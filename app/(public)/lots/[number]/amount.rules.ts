import { type Currency, parseMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'

/** What it comes to with the postage to where the reader lives; from the least to the most where those differ. */
export const sayPostage = (from: number, to: number, postage: number, country: string, show: (minor: number) => string): string =>
  from === to
    ? `With postage to ${country}: ${show(to + postage)}.`
    : `With postage to ${country}: ${show(from + postage)} to ${show(to + postage)}.`

/** The amount, or what is wrong with it in words; null while nothing is written. */
export function readAmount(text: string, currency: Currency): number | string | null {
  if (text.trim() === '') return null
  try {
    return parseMoney(text, currency, 'maximum')
  } catch (reason) {
    if (reason instanceof Refusal) return reason.message
    throw reason
  }
}
