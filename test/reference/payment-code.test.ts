import { describe, expect, it, test } from 'vitest'
import { isGoodBic, isGoodIban, showIban } from '#money/invoices/iban.rules'
import { paymentCode } from '#money/invoices/payment-code.rules'
import { makeCreditorReference } from '#money/journal/creditor-reference.rules'

describe('account numbers, ISO 13616, check digits of ISO/IEC 7064 MOD 97-10', () => {
  // The first: ISO 13616, MOD 97-10 example. The others: examples of the registry of account numbers, from memory.
  it.each([
    'GB82WEST12345698765432',
    'gb82 west 1234 5698 7654 32',
    'DE89370400440532013000',
    'FR1420041010050500013M02606',
    'NO9386011117947',
  ])('%s is good', (iban) => expect(isGoodIban(iban)).toBe(true))

  it('no single wrong figure and no two swapped neighbours pass', () => {
    const good = 'GB82WEST12345698765432'
    for (let place = 8; place < good.length; place += 1) {
      const other = String((Number(good[place]) + 1) % 10)
      expect(isGoodIban(good.slice(0, place) + other + good.slice(place + 1))).toBe(false)
      const next = good[place + 1]
      if (next !== undefined && next !== good[place])
        expect(isGoodIban(good.slice(0, place) + next + good[place] + good.slice(place + 2))).toBe(false)
    }
  })

  it.each(['', 'GB82', 'GB82WEST1234569876543', '82GBWEST12345698765432', 'GB82WEST1234569876543Ö'])('%j is refused', (iban) => {
    expect(isGoodIban(iban)).toBe(false)
  })

  it('is printed in groups of four', () => expect(showIban('GB82WEST12345698765432')).toBe('GB82 WEST 1234 5698 7654 32'))

  it('a bank’s code has eight or eleven characters', () => {
    expect(['BANKGB2L', 'BANKGB2LXXX', 'BANKGB2', 'BANKGB2LXX', 'B4NKGB2L'].map(isGoodBic)).toEqual([true, true, false, false, false])
  })
})

/** Check characters of ISO/IEC 7064 MOD 97-10: `794` gives 44 in the standard's own system, carried to a creditor reference here. */
test('the reference on the code is one of ISO 11649', () => {
  expect(makeCreditorReference('539007547034')).toBe('RF18539007547034')
})

// EPC069-12, Quick Response Code: Guidelines to Enable Data Capture for the Initiation of a SEPA Credit Transfer, version 002.
describe('the payment code', () => {
  const sale = {
    accountName: 'Long Bench workshop',
    iban: 'GB82 WEST 1234 5698 7654 32',
    bic: '',
    amountMinor: 17_705,
    reference: 'RF18539007547034',
  }

  it('has ten elements in their order, apart by line feeds, and nothing after the last', () => {
    expect(paymentCode(sale)).toBe('BCD\n002\n1\nSCT\n\nLong Bench workshop\nGB82WEST12345698765432\nEUR177.05\n\nRF18539007547034')
    expect(paymentCode({ ...sale, bic: 'BANKGB2LXXX' })?.split('\n')[4]).toBe('BANKGB2LXXX')
  })

  it.each([
    [1, 'EUR0.01'],
    [10, 'EUR0.10'],
    [100, 'EUR1.00'],
    [99_999_999_999, 'EUR999999999.99'],
  ])('%i cents are written %s', (amountMinor, shown) => expect(paymentCode({ ...sale, amountMinor })?.split('\n')[7]).toBe(shown))

  it.each([
    ['nothing to pay', { amountMinor: 0 }],
    ['more than the format takes', { amountMinor: 100_000_000_000 }],
    ['no name', { accountName: ' ' }],
    ['a name of 71 letters', { accountName: 'x'.repeat(71) }],
    ['no account', { iban: '' }],
    ['331 bytes passed by letters of four bytes', { accountName: '🜨'.repeat(35).concat('🜨'.repeat(34)) }],
  ])('there is none for %s', (_what, change) => expect(paymentCode({ ...sale, ...change })).toBeNull())

  it('a name of 70 letters beyond Latin fits', () => expect(paymentCode({ ...sale, accountName: 'ß'.repeat(70) })).not.toBeNull())
})
