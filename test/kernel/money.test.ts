import fc from 'fast-check'
import { expect, test } from 'vitest'
import { CURRENCY_CODES, MOST_MINOR, parseMoney, plainMoney, showMoney, splitMoney } from '#kernel/money'

test.each([
  ['210', 21_000],
  ['210.00', 21_000],
  ['£1,240.50', 124_050],
  ['210,50', 21_050],
  [' 0.05 ', 5],
  ['２１０', 21_000],
  ['GBP 12', 1_200],
  ['12.5', 1_250],
  ['12.500', 1_250],
  ['8.000,50', 800_050],
  ['1.234.567,5', 123_456_750],
  ['1.234.567', 123_456_700],
])('"%s" is read as %i pence', (text, minor) => {
  expect(parseMoney(text, 'GBP', 'amount')).toBe(minor)
})

test.each([
  ['', 'Write an amount'],
  ['-1', 'above zero'],
  ['−1', 'above zero'],
  ['1e308', 'not an amount'],
  ['12.345', 'has 2 decimals'],
  ['1,2,3', 'not an amount'],
  ['8.000', 'Write 8000 or 8.00: it could be either'],
  ['8.00,50', 'not an amount'],
  ['8.000,505', 'not an amount'],
  ['twelve', 'not an amount'],
  ['0x10', 'not an amount'],
  ['NaN', 'not an amount'],
  ['99999999999999999999', 'more than can be taken'],
])('"%s" is refused at the field: %s', (text, words) => {
  expect(() => parseMoney(text, 'GBP', 'amount')).toThrow(
    expect.objectContaining({ message: expect.stringContaining(words), fields: { amount: expect.any(String) } }),
  )
})

test('yen have no decimals and dinars have three', () => {
  expect(parseMoney('2,500', 'JPY', 'a')).toBe(2500)
  expect(() => parseMoney('2500.5', 'JPY', 'a')).toThrow('no decimals')
  expect(parseMoney('1.234', 'KWD', 'a')).toBe(1234)
})

test('what is shown plainly is read back as the same amount, in every currency', () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: MOST_MINOR }), fc.constantFrom(...CURRENCY_CODES), (amount, currency) => {
      expect(parseMoney(plainMoney(amount, currency), currency, 'a')).toBe(amount)
      expect(parseMoney(showMoney(amount, currency), currency, 'a')).toBe(amount)
    }),
  )
})

test('money is shown with its sign, grouped, and short where the pence are nought', () => {
  expect([showMoney(124_000, 'GBP'), showMoney(124_000, 'GBP', { short: true }), showMoney(124_050, 'GBP', { short: true })]).toEqual([
    '£1,240.00',
    '£1,240',
    '£1,240.50',
  ])
  expect([showMoney(-5, 'GBP'), showMoney(0, 'JPY'), showMoney(1, 'KWD')]).toEqual(['−£0.05', '¥0', 'KWD 0.001'])
})

test('a split loses no penny and gives nobody more than a penny over their share', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 0, max: 10 ** 9 }),
      fc.array(fc.integer({ min: 0, max: 10_000 }), { minLength: 1, maxLength: 12 }),
      (total, weights) => {
        fc.pre(weights.some((weight) => weight > 0))
        const parts = splitMoney(total, weights)
        const sum = weights.reduce((a, b) => a + b, 0)
        expect(parts.reduce((a, b) => a + b, 0)).toBe(total)
        for (const [index, part] of parts.entries()) expect(Math.abs(part - (total * (weights[index] ?? 0)) / sum)).toBeLessThan(1)
      },
    ),
  )
})

test.each(['10²', '½', '①②', '٢١٠', '२१०', '2१0', '𝟐𝟏𝟎', 'Ⅻ'])('%s is not read as other digits than those that were written', (typed) => {
  expect(() => parseMoney(typed, 'GBP', 'amount')).toThrow('Write the amount in the digits 0 to 9, such as 210.00.')
})
