import { expect, test } from 'vitest'
import { rowWithoutSealed, sealedLots, withoutSealed } from '#sale/lots/sealed.rules'

const terms = JSON.stringify({ openingMinor: 2000, reserveMinor: 73193, sale: { deep: [{ maximumMinor: 74387 }] } })

test('what is sealed is taken out of columns and out of JSON, however deep, and nothing else is', () => {
  const row = {
    number: 1,
    reserve_minor: 73193,
    leader_maximum_minor: 74387,
    opening_minor: 2000,
    terms,
    story: '[sic] a story',
    note: null,
  }
  expect(withoutSealed(row)).toEqual({
    ...row,
    reserve_minor: null,
    leader_maximum_minor: null,
    terms: JSON.stringify({ openingMinor: 2000, reserveMinor: null, sale: { deep: [{ maximumMinor: null }] } }),
  })
})

test('a lot that has ended and the public history are shown as they are', () => {
  expect(rowWithoutSealed('lot', { ended_at: 1, terms }).terms).toBe(terms)
  expect(rowWithoutSealed('lot', { ended_at: null, terms }).terms).not.toBe(terms)
  expect(rowWithoutSealed('ledger_leaf', { body: terms }).body).toBe(terms)
})

test('a lot seals from the moment it has a reserve or takes bids here, until it has ended', () => {
  const lot = (number: number, state: string, reserve = 'none', soldWhere = 'here') => ({ number, state, reserve, soldWhere })
  const lots = [
    lot(1, 'draft'),
    lot(2, 'ready', 'unreached'),
    lot(3, 'open'),
    lot(4, 'held'),
    lot(5, 'open', 'none', 'elsewhere'),
    lot(6, 'sold', 'reached'),
  ]
  expect(sealedLots(lots)).toEqual([2, 3, 4])
})
