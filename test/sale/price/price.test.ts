import { describe, expect, it } from 'vitest'
import { previewBid } from '#sale/bidding/preview.rules'
import { defaultLadder, isLadder, stepAt, stepsFrom } from '#sale/price/ladder.rules'
import { leastNext, pairOf, priceOf, reserveOf } from '#sale/price/price.rules'
import { makeTerms, pounds } from '#test/make/lot-history'

const maxima = (...list: [string, number][]) =>
  list.map(([bidder, amount], index) => ({ bidder, maximumMinor: pounds(amount), sequence: index + 1 }))
const priceFor = (list: [string, number][], change = {}) => priceOf(makeTerms(change), pairOf(maxima(...list)))

describe('the ladder', () => {
  const ladder = defaultLadder('GBP')

  it.each([
    [0, 2],
    [49.99, 2],
    [50, 5],
    [99.99, 5],
    [100, 10],
    [499.99, 10],
    [500, 25],
    [999.99, 25],
    [1000, 50],
    [25_000, 50],
  ])('at %d the step is %d: the lower edge is in', (amount, step) => {
    expect(stepAt(ladder, pounds(amount))).toBe(pounds(step))
  })

  it('offers the next steps across an edge', () => {
    expect(stepsFrom(ladder, pounds(90), 4)).toEqual([90, 95, 100, 110].map(pounds))
  })

  it('is refused when a step falls, an edge repeats or it does not begin at nought', () => {
    expect(isLadder(ladder)).toBe(true)
    expect(isLadder([])).toBe(false)
    expect(isLadder([{ fromMinor: 100, stepMinor: 5 }])).toBe(false)
    expect(
      isLadder([
        { fromMinor: 0, stepMinor: 5 },
        { fromMinor: 100, stepMinor: 4 },
      ]),
    ).toBe(false)
    expect(
      isLadder([
        { fromMinor: 0, stepMinor: 5 },
        { fromMinor: 0, stepMinor: 6 },
      ]),
    ).toBe(false)
    expect(isLadder([{ fromMinor: 0, stepMinor: 0 }])).toBe(false)
  })

  it('counts a hundred yen as one, since the yen has no smaller coin', () => {
    expect(stepAt(defaultLadder('JPY'), 0)).toBe(200)
  })
})

describe('the standing bid', () => {
  it('is nothing while nobody has bid', () => {
    expect(priceFor([])).toBeNull()
  })

  it('is the opening price with one bidder, however high the maximum', () => {
    expect(priceFor([['4K', 500]])).toEqual({ priceMinor: pounds(20), why: 'opening' })
  })

  it('is one step over the second', () => {
    expect(
      priceFor([
        ['4K', 210],
        ['7R', 155],
      ]),
    ).toEqual({ priceMinor: pounds(165), why: 'second' })
  })

  it('never passes the leader’s own maximum', () => {
    expect(
      priceFor([
        ['4K', 158],
        ['7R', 155],
      ]),
    ).toEqual({ priceMinor: pounds(158), why: 'cap' })
  })

  it('goes to the earlier of two equal maxima, at that amount', () => {
    expect(pairOf(maxima(['4K', 80], ['7R', 80])).leader?.bidder).toBe('4K')
    expect(
      priceFor([
        ['4K', 80],
        ['7R', 80],
      ]),
    ).toEqual({ priceMinor: pounds(80), why: 'cap' })
  })

  it('rises to the reserve when the leader’s maximum reaches it, and says so', () => {
    const reserveMinor = pounds(120)
    expect(priceFor([['4K', 120]], { reserveMinor })).toEqual({ priceMinor: pounds(120), why: 'reserve' })
    expect(priceFor([['4K', 119.99]], { reserveMinor })).toEqual({ priceMinor: pounds(20), why: 'opening' })
  })

  it('publishes the reserve as none, unreached or reached and never as an amount', () => {
    const leader = maxima(['4K', 120])[0] ?? null
    expect(reserveOf({ reserveMinor: null }, leader)).toBe('none')
    expect(reserveOf({ reserveMinor: pounds(120.01) }, leader)).toBe('unreached')
    expect(reserveOf({ reserveMinor: pounds(120) }, leader)).toBe('reached')
    expect(reserveOf({ reserveMinor: pounds(1) }, null)).toBe('unreached')
  })

  it('asks for the opening price first and for one step more afterwards', () => {
    expect(leastNext(makeTerms(), null)).toBe(pounds(20))
    expect(leastNext(makeTerms(), pounds(49.99))).toBe(pounds(51.99))
    expect(leastNext(makeTerms(), pounds(50))).toBe(pounds(55))
  })
})

describe('the sentence beside the amount', () => {
  const seen = {
    currency: 'GBP',
    standingMinor: pounds(165),
    leastNextMinor: pounds(175),
    reserve: 'reached',
    own: null,
    ceilingMinor: pounds(500),
  } as const

  it('says at what price one would lead, and until when', () => {
    expect(previewBid(seen, pounds(210))).toBe(
      'You would lead at £175 until somebody passes £210, unless the leader has allowed as much already.',
    )
  })

  it('promises nobody a lead above what their paddle may bid, a leader neither', () => {
    const words = 'Your paddle may bid up to £500. Ask us to raise it.'
    expect(previewBid(seen, pounds(500))).toContain('You would lead')
    expect(previewBid(seen, pounds(500.01))).toBe(words)
    expect(previewBid({ ...seen, own: { maximumMinor: pounds(200), leastRaiseMinor: pounds(210) } }, pounds(600))).toBe(words)
  })

  it('says what is too little', () => {
    expect(previewBid(seen, pounds(174.99))).toBe('A bid must be at least £175.')
  })

  it('promises the first bidder the opening price', () => {
    expect(previewBid({ ...seen, standingMinor: null, leastNextMinor: pounds(20), reserve: 'none' }, pounds(90))).toBe(
      'You would lead at £20 until somebody passes £90.',
    )
  })

  it('warns that a reserve not reached yet may lift the price', () => {
    expect(previewBid({ ...seen, reserve: 'unreached' }, pounds(210))).toContain('at the reserve, if your maximum reaches it')
  })

  it('tells a leader what raising does, and that lowering is not possible', () => {
    expect(previewBid({ ...seen, own: { maximumMinor: pounds(200), leastRaiseMinor: pounds(210) } }, pounds(210))).toBe(
      'You would still lead at £165 until somebody passes £210.',
    )
    expect(previewBid({ ...seen, own: { maximumMinor: pounds(210), leastRaiseMinor: pounds(220) } }, pounds(210))).toContain(
      'can only be raised',
    )
  })
})
