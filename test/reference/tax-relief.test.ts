import { describe, expect, it } from 'vitest'
import { benefitLimit, needsDisclosure, reliefEstimate } from '#money/relief/relief.rules'
import { rows } from './tax-relief.json'

const pence = (amount: number) => Math.round(amount * 100)
const benefits = rows.flatMap((row) => ('donation_gbp' in row && row.donation_gbp !== undefined ? [row] : []))
const american = rows.flatMap((row) => ('paid' in row && row.paid !== undefined ? [row] : []))
const facts = { currency: 'GBP' as const, published: null, estimateHighMinor: null }

describe('HMRC, donor benefits from April 2019', () => {
  it.each(benefits)('beside a gift of $donation_gbp a benefit of at most $max_benefit_gbp', ({ donation_gbp, max_benefit_gbp }) => {
    expect(benefitLimit(pence(donation_gbp ?? 0))).toBe(pence(max_benefit_gbp ?? -1))
  })

  it('checks every row', () => {
    expect(benefits).toHaveLength(7)
    expect(american).toHaveLength(3)
  })

  it('the limits before April 2019 are not used: 25 for 500 was one of them', () => {
    expect(benefitLimit(50_000)).toBe(4_500)
  })
})

describe('HMRC 3.4.5, auctions', () => {
  it('a one-off machine is worth what was paid, so no part of the price is a gift', () => {
    const found = reliefEstimate({ ...facts, country: 'GB', priceMinor: 50_000, causeMinor: 50_000 })
    expect(found.giftMinor).toBe(0)
    expect(found.because).toEqual([expect.stringContaining('worth what was paid')])
  })

  it('where a separate price was known beforehand, what is above it may be split off', () => {
    const published = { valueMinor: 20_000, knownFrom: 'the kit maker’s list' }
    const found = reliefEstimate({ ...facts, country: 'GB', priceMinor: 50_000, causeMinor: 50_000, published })
    expect(found.giftMinor).toBe(30_000)
    expect(found.because.join(' ')).toContain('£45.00 at most')
    expect(found.duties).toHaveLength(1)
    expect(reliefEstimate({ ...facts, country: 'GB', priceMinor: 20_000, causeMinor: 20_000, published }).giftMinor).toBe(0)
    expect(reliefEstimate({ ...facts, country: 'GB', priceMinor: 20_001, causeMinor: 20_001, published }).giftMinor).toBe(1)
  })

  it('what does not reach the cause is no gift to it', () => {
    const published = { valueMinor: 20_000, knownFrom: 'the list' }
    expect(reliefEstimate({ ...facts, country: 'GB', priceMinor: 50_000, causeMinor: 25_000, published }).giftMinor).toBe(5_000)
  })
})

describe('IRS, charity auctions and Publication 1771', () => {
  it.each(american)('paid $paid, worth $fmv: $deductible', ({ paid, fmv, deductible, ...row }) => {
    const price = pence(paid ?? 0)
    const published = { valueMinor: pence(fmv ?? 0), knownFrom: 'the catalogue' }
    const found = reliefEstimate({
      country: 'US',
      currency: 'USD',
      priceMinor: price,
      causeMinor: price,
      published,
      estimateHighMinor: null,
    })
    expect(found.giftMinor).toBe(pence(deductible ?? -1))
    if ('disclosure' in row && row.disclosure) expect(found.duties.join(' ')).toContain('above $75')
  })

  it('the statement is due above 75 and not at it; the acknowledgment from 250', () => {
    expect(needsDisclosure(7_500, 1_000)).toBe(false)
    expect(needsDisclosure(7_501, 1_000)).toBe(true)
    expect(needsDisclosure(10_000, 0)).toBe(false)
    const duties = (priceMinor: number) =>
      reliefEstimate({
        country: 'US',
        currency: 'USD',
        priceMinor,
        causeMinor: priceMinor,
        published: null,
        estimateHighMinor: 10_000,
      }).duties.join(' ')
    expect(duties(34_999)).not.toContain('$250')
    expect(duties(35_000)).toContain('$250')
  })

  it('without a value published before bidding nothing can be shown', () => {
    const found = reliefEstimate({
      country: 'US',
      currency: 'USD',
      priceMinor: 9_000,
      causeMinor: 9_000,
      published: null,
      estimateHighMinor: null,
    })
    expect(found).toMatchObject({ giftMinor: 0, duties: [] })
  })
})

it('every estimate has its caution, its source and its date beside it', () => {
  for (const country of ['GB', 'US'] as const) {
    const found = reliefEstimate({ ...facts, country, priceMinor: 1, causeMinor: 1 })
    expect(found.cautions.join(' ')).toContain('not tax advice')
    expect(found.source).toContain(country === 'GB' ? 'HMRC' : 'IRS')
    expect(found.trueOn).toMatch(/\d{4}/)
  }
})
