import { CURRENCIES, type Currency, type Minor, plainMoney, showMoney } from '#kernel/money'
import { causeShare, WHOLE_BP } from './journal.rules'

/** "1487.5", "53.38375": what a share comes to before anything is rounded, with its sign and every decimal that it has. */
export function exactShare(amountMinor: Minor, shareBp: number, currency: Currency): string {
  const product = BigInt(amountMinor) * BigInt(shareBp)
  const [whole, rest] = [Number(product / BigInt(WHOLE_BP)), Number(product % BigInt(WHOLE_BP))]
  const behind = rest === 0 ? '' : String(Number(`0.${String(rest).padStart(4, '0')}`)).slice(2)
  const point = behind !== '' && CURRENCIES[currency].exponent === 0 ? '.' : ''
  return `${plainMoney(whole, currency)}${point}${behind}`
}

export interface Shared {
  priceMinor: Minor
  shareBp: number
  /** What the cause has of it by the books. */
  causeMinor: Minor
  currency: Currency
}

/** "87.5 % of £61.01 is £53.38375, rounded to £53.38." Null where nothing was rounded. */
export function roundedWords({ priceMinor, shareBp, causeMinor, currency }: Shared): string | null {
  if (BigInt(priceMinor) * BigInt(shareBp) === BigInt(causeMinor) * BigInt(WHOLE_BP)) return null
  const show = (minor: Minor) => showMoney(minor, currency)
  const exact = `${CURRENCIES[currency].sign}${exactShare(priceMinor, shareBp, currency)}`
  const once = causeShare(priceMinor, shareBp)
  const said = `${shareBp / 100} % of ${show(priceMinor)} is ${exact}, rounded to ${show(once)}`
  return once === causeMinor ? `${said}.` : `${said}; booked in several steps, each rounded, it comes to ${show(causeMinor)}.`
}
