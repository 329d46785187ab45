import { describe, expect, it, test } from 'vitest'
import { type OfferableFacts, type OfferedAt, shownPrice, whyNotOffered, whyTooLate } from '#sale/fixed-price/fixed-price.rules'
import { sayClosing, sayFixedDay, sayFixedPrice } from '#sale/fixed-price/fixed-price-words.rules'

const NOW = Date.parse('2027-04-02T12:00:00Z')
const offered = (change: Partial<OfferedAt> = {}): OfferedAt => ({
  priceMinor: 8_000,
  lastDay: null,
  ended: null,
  endedAt: null,
  fellThroughAt: null,
  ...change,
})
const taken = (change: Partial<OfferedAt> = {}) => offered({ ended: 'taken', endedAt: NOW, ...change })

describe('what anybody is told of a fixed price', () => {
  it('is the price that stands, while the machine is fit to be sold', () => {
    expect(shownPrice([offered({ lastDay: '2027-04-12' })], () => true)).toEqual({
      is: 'to be had',
      priceMinor: 8_000,
      lastDay: '2027-04-12',
    })
    expect(shownPrice([offered()], () => false)).toBeNull()
  })

  it('is what it went for, until that sale falls through', () => {
    expect(shownPrice([taken()], () => false)).toEqual({ is: 'sold', priceMinor: 8_000, soldAt: NOW })
    expect(shownPrice([taken({ fellThroughAt: NOW })], () => true)).toBeNull()
  })

  it('is the newer price where an earlier sale fell through, and nothing of one that was taken back', () => {
    expect(shownPrice([offered({ priceMinor: 6_000 }), taken({ fellThroughAt: NOW })], () => true)).toMatchObject({
      is: 'to be had',
      priceMinor: 6_000,
    })
    expect(shownPrice([offered({ ended: 'taken back', endedAt: NOW })], () => true)).toBeNull()
  })
})

const FREE: OfferableFacts = { number: 3, state: 'unsold', isSold: false, isOffered: false, newLot: null, gap: null, hasPostage: true }

test.each<[Partial<OfferableFacts>, string | null]>([
  [{}, null],
  [{ state: 'withdrawn' }, null],
  [{ state: 'sold' }, null],
  [{ state: 'open' }, 'has not ended'],
  [{ state: 'draft' }, 'has not ended'],
  [{ state: 'sold', isSold: true }, 'Lot 3 is sold'],
  [{ isOffered: true }, 'offered to the next bidder'],
  [{ newLot: 9 }, 'in lot 9 now'],
  [{ gap: 'TERN-03 is set aside: it hums' }, 'set aside'],
  [{ hasPostage: false }, 'no postage'],
])('whether a lot can be offered: %j', (change, words) => {
  const why = whyNotOffered({ ...FREE, ...change })
  if (words === null) expect(why).toBeNull()
  else expect(why).toContain(words)
})

describe('a yes comes to nothing', () => {
  const standing = { ...offered(), openUntil: NOW + 1_000 }
  const yes = { standing, last: standing, now: NOW, seenMinor: 8_000 }
  it('never while the price that was read stands', () => expect(whyTooLate(yes, 'GBP')).toBeNull())
  it.each([
    ['somebody was first', { standing: null, last: taken() }, 'Somebody else was first'],
    ['it was taken back', { standing: null, last: offered({ ended: 'taken back', endedAt: NOW }) }, 'taken back before'],
    ['it was never offered', { standing: null, last: null }, 'cannot be had at a fixed price'],
    ['its last instant has come', { now: NOW + 1_000 }, 'last day is over'],
    ['the price is another one', { seenMinor: 7_500 }, 'changed to £80.00'],
  ])('where %s', (_, change, words) => expect(whyTooLate({ ...yes, ...change }, 'GBP')).toContain(words))
})

test('the words say the price, the day with its year, and what the closing was', () => {
  const had = { is: 'to be had', priceMinor: 8_000, lastDay: '2027-04-12' } as const
  expect(sayFixedPrice(had, 'GBP')).toBe('Can still be had for £80')
  expect(sayFixedDay(had, 'Europe/London')).toBe('by whoever says yes first, until the end of Monday 12 April 2027')
  expect(sayFixedDay({ is: 'sold', priceMinor: 8_000, soldAt: NOW }, 'Europe/London')).toBe('on Friday 2 April 2027')
  expect(sayClosing({ state: 'sold', hammerMinor: 5_000, bids: 2 }, 'GBP')).toContain('the hammer fell at £50; that sale was not completed')
  expect(sayClosing({ state: 'unsold', hammerMinor: null, bids: 0 }, 'GBP')).toContain('nobody had bid')
})
