import { type Currency, showMoney } from '#kernel/money'
import type { Meter } from '#money/proceeds/proceeds.contract'

/** What of the matched giving was sent, and what is only promised; empty where there is none. */
export function matchedWords({
  matchedMinor,
  matchedReceivedMinor,
  currency,
}: Pick<Meter, 'matchedMinor' | 'matchedReceivedMinor'> & { currency: Currency }): string {
  if (matchedMinor === 0) return ''
  const show = (minor: number) => showMoney(minor, currency, { short: true })
  const left = matchedMinor - matchedReceivedMinor
  if (left === 0) return `${show(matchedMinor)} of it is matched giving, and all of that has been sent.`
  const sent =
    matchedReceivedMinor === 0 ? 'none of it has been sent yet' : `${show(matchedReceivedMinor)} has been sent and ${show(left)} not yet`
  return `${show(matchedMinor)} of it is matched giving, promised for what the lots and gifts bring, up to a cap: ${sent}.`
}
