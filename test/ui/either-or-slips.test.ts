import { describe, expect, test } from 'vitest'
import { slipsIn } from '#app/(public)/me/either-or/draft.rules.ts'
import type { EitherOrLot } from '#sale/either-or/either-or.contract'

const lot = (number: number, change: Partial<EitherOrLot> = {}): EitherOrLot => ({
  number,
  title: 'Saltmarsh shortwave receiver',
  closesAt: null,
  leastNextMinor: 5_500,
  hasBid: false,
  ownMinor: null,
  standingMinor: 5_000,
  openingMinor: 2_000,
  highMinor: 24_000,
  ...change,
})
const asked = (...rows: [lot: string, maximum: string][]) =>
  slipsIn(
    rows.map(([number, maximum], id) => ({ id, lot: number, maximum })),
    { lots: [lot(3), lot(5, { standingMinor: null, highMinor: null })], currency: 'GBP' },
  )

describe('what is asked before the maxima of an either-or bind', () => {
  test('nothing of amounts that are near the price, nor of what the house refuses anyway', () => {
    expect(asked(['3', '240'], ['5', '90'])).toEqual({})
    expect(asked(['3', 'a lot'], ['5', ''])).toEqual({})
  })
  test('a nought too many, at the field of its lot as it is sent', () => {
    expect(asked(['3', '2400'], ['5', '90'])).toEqual({
      'links.0.maximum': 'Is £2,400.00 what you mean? It is 48 times the standing bid of £50.',
    })
    expect(Object.keys(asked(['3', '2400'], ['', ''], ['5', '900']))).toEqual(['links.0.maximum', 'links.1.maximum'])
  })
})
