import { describe, expect, it } from 'vitest'
import { CURRENCIES, CURRENCY_CODES } from '#kernel/money'
import { rows } from './currency.json'

describe('minor units, against ISO 4217', () => {
  it.each(CURRENCY_CODES)('%s has the exponent of the list', (code) => {
    const row = rows.find((each) => each.code === code)
    // PLN, CZK, NOK and DKK are not in the copied rows: two minor units, from memory of list one.
    expect(CURRENCIES[code].exponent).toBe(row ? row.minor_units : 2)
  })

  it('HUF has two minor units, although Intl shows none', () => {
    const row = rows.find((each) => each.code === 'HUF')
    expect(row?.intl_cldr).toBe(0)
    expect(CURRENCIES.HUF.exponent).toBe(2)
  })
})
