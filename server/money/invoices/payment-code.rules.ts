import type { Minor } from '#kernel/money'
import { bareIban } from './iban.rules'

export interface PaymentCode {
  accountName: string
  iban: string
  /** May be empty: version 002 needs none. */
  bic: string
  amountMinor: Minor
  /** ISO 11649. */
  reference: string
}

/** The European Payments Council's limit for what a code carries, EPC069-12. */
const MOST_BYTES = 331
const MOST_MINOR = 99_999_999_999

/**
 * What a payment code says (EPC069-12, version 002): service tag, version, character set 1 (UTF-8), SCT, bank, name,
 * account, amount, purpose (none), structured reference; nothing after the last element. Error correction M. Null where
 * it cannot be said: nothing to pay, or too long a name.
 */
export function paymentCode({ accountName, iban, bic, amountMinor, reference }: PaymentCode): string | null {
  const name = accountName.replaceAll(/\s+/g, ' ').trim()
  if (name === '' || name.length > 70 || iban === '' || amountMinor < 1 || amountMinor > MOST_MINOR) return null
  const amount = `EUR${Math.floor(amountMinor / 100)}.${String(amountMinor % 100).padStart(2, '0')}`
  const text = ['BCD', '002', '1', 'SCT', bic, name, bareIban(iban), amount, '', reference].join('\n')
  return new TextEncoder().encode(text).byteLength <= MOST_BYTES ? text : null
}
