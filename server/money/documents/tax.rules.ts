import type { Minor } from '#kernel/money'
import type { TaxTerms } from '../invoices/invoices.contract'

/** The tax that an amount contains at a rate in basis points, rounded to the nearest minor unit, a half away from nought. */
export function taxWithin(grossMinor: Minor, { taxScheme, taxRateBp }: Pick<TaxTerms, 'taxScheme' | 'taxRateBp'>): Minor {
  if (taxScheme !== 'rate' || taxRateBp === 0) return 0
  const part = BigInt(Math.abs(grossMinor)) * BigInt(taxRateBp)
  const whole = BigInt(10_000 + taxRateBp)
  return Math.sign(grossMinor) * Number((2n * part + whole) / (2n * whole)) || 0
}

/** What a document says of tax beside its sums. */
export function taxSentence({ taxScheme, taxRateBp, taxNumber, taxWords }: TaxTerms): string {
  const said = {
    none: 'No tax is stated.',
    margin: 'Sold under the margin scheme: no tax is shown separately.',
    rate: `The amounts contain ${taxRateBp / 100} % tax.`,
  }[taxScheme]
  const registered = taxNumber === '' ? '' : ` Registered for tax under ${taxNumber}.`
  return `${said}${registered}${taxWords === '' ? '' : ` ${taxWords}`}`
}
