import { describe, expect, it } from 'vitest'
import { hammerOf, pairOf, priceOf } from '#sale/price/price.rules'
import reference from './auction-results.json'

const rows = reference.rows

describe('the price rule against worked examples (MEMORY: derived from the rule, no published table)', () => {
  const examples = rows.filter(({ kind }) => kind === 'proxy_bid')
  it.each(examples.map((row) => [row.name, row] as const))(
    '%s',
    (_, { bids = [], start = 0, increment = 0, reserve = 0, leader, price }) => {
      const ladder = [{ fromMinor: 0, stepMinor: increment }]
      const terms = { currency: 'GBP', openingMinor: start, reserveMinor: reserve || null, ladder } as const
      const taken = bids.filter(([, amount]) => Number(amount) >= start)
      const pair = pairOf(
        taken.map(([bidder, amount], index) => ({ bidder: String(bidder), maximumMinor: Number(amount), sequence: index + 1 })),
      )
      expect(pair.leader?.bidder ?? null).toBe(leader)
      expect(priceOf(terms, pair)?.priceMinor ?? null).toBe(price)
    },
  )
})

/** A small generator of its own, so that every run sees the same values (Mulberry32, public domain). */
function uniform(seed: number): () => number {
  let state = seed
  return () => {
    state = (state + 0x6d2b79f5) | 0
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state)
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32
  }
}

const SCALE = 1_000_000
const ROUNDS = 20_000
/** Bidders say what it is worth to them, uniform on [0, 1]; the step is one millionth, so the ladder adds nothing. */
function meanRevenue(bidders: number, reserve: number): { mean: number; error: number } {
  const chance = uniform(20_270_301 + bidders)
  const terms = {
    currency: 'GBP',
    openingMinor: 0,
    reserveMinor: reserve > 0 ? reserve * SCALE : null,
    ladder: [{ fromMinor: 0, stepMinor: 1 }],
  } as const
  let [sum, squares] = [0, 0]
  for (let round = 0; round < ROUNDS; round++) {
    const arrivals = Array.from({ length: bidders }, (_, index) => ({
      bidder: String(index),
      maximumMinor: Math.floor(chance() * SCALE),
      sequence: index + 1,
    }))
    const paid = (hammerOf(terms, pairOf(arrivals)) ?? 0) / SCALE
    sum += paid
    squares += paid * paid
  }
  const mean = sum / ROUNDS
  return { mean, error: Math.sqrt((squares / ROUNDS - mean * mean) / ROUNDS) }
}

const fraction = (text: string | undefined): number => {
  const [above = '', below = '1'] = (text ?? '').split('/')
  return Number(above) / Number(below)
}

describe('revenue of the rule, simulated 20,000 times, within four standard errors of the closed form', () => {
  const plain = rows.filter(({ kind }) => kind === 'second_price_uniform')
  it.each(plain.map((row) => [row.n ?? 0, row.revenue, row] as const))('%d bidders: %s (order statistics of uniforms)', (n, revenue) => {
    const { mean, error } = meanRevenue(n, 0)
    expect(Math.abs(mean - fraction(revenue))).toBeLessThanOrEqual(4 * error + 2 / SCALE)
  })

  const half = rows.filter(({ kind }) => kind === 'reserve_half')
  it.each(half.map((row) => [row.n ?? 0, row.revenue] as const))(
    '%d bidders and a reserve of one half: %s (Myerson 1981)',
    (n, revenue) => {
      const { mean, error } = meanRevenue(n, 0.5)
      expect(Math.abs(mean - fraction(revenue))).toBeLessThanOrEqual(4 * error + 2 / SCALE)
    },
  )

  const curve = rows.filter(({ kind }) => kind === 'reserve_curve_n2')
  it.each(curve.map((row) => [row.r, row.revenue] as const))('two bidders and a reserve of %s: %s (Myerson 1981)', (r, revenue) => {
    const { mean, error } = meanRevenue(2, fraction(r))
    expect(Math.abs(mean - fraction(revenue))).toBeLessThanOrEqual(4 * error + 2 / SCALE)
  })
})
