import { randomBytes } from 'node:crypto'
import { expect, test } from 'vitest'
import { ofBid, ofReserve, openFigure, sealFigure } from '#sale/lots/sealed-figures'

const keysOf = (secret: string) => ({ seal: (words: string) => new Uint8Array(Buffer.from(`${secret}${words}`.padEnd(32).slice(0, 32))) })
const keys = keysOf('one')
const nonce = randomBytes(32).toString('hex')

test('an amount opens where it was sealed, with its random bytes or without', () => {
  for (const amountMinor of [1, 74387, 100_000_000_000]) {
    expect(openFigure(keys, ofBid(7, 3), sealFigure(keys, ofBid(7, 3), amountMinor, nonce))).toEqual({ amountMinor, nonce })
    expect(openFigure(keys, ofReserve(7), sealFigure(keys, ofReserve(7), amountMinor))).toEqual({ amountMinor, nonce: '' })
  }
})

test.each([
  ['another lot', () => openFigure(keys, ofBid(8, 3), sealed)],
  ['another bid of the lot', () => openFigure(keys, ofBid(7, 4), sealed)],
  ['the reserve of the lot', () => openFigure(keys, ofReserve(7), sealed)],
  ['another house', () => openFigure(keysOf('two'), ofBid(7, 3), sealed)],
  ['a row whose seal was cut', () => openFigure(keys, ofBid(7, 3), sealed.slice(0, 80))],
  ['a row whose seal is empty', () => openFigure(keys, ofBid(7, 3), '')],
  [
    'a row with one letter of it changed',
    () => openFigure(keys, ofBid(7, 3), `${sealed.slice(0, 60)}${sealed[60] === 'A' ? 'B' : 'A'}${sealed.slice(61)}`),
  ],
])('moved to %s it does not open, and no amount comes of it', (_where, open) => {
  expect(open).toThrow(/does not open/)
})
const sealed = sealFigure(keys, ofBid(7, 3), 74387, nonce)

test('what is sealed is as long for a penny as for a fortune, and never twice the same', () => {
  const all = [1, 100_000_000_000, 1].map((amount) => sealFigure(keys, ofBid(1, 1), amount, nonce))
  expect(new Set(all.map(({ length }) => length))).toEqual(new Set([88]))
  expect(new Set(all).size).toBe(3)
})
