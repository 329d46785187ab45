import { expect, test } from 'vitest'
import { HOUR, MINUTE } from '#kernel/instant'
import { seededChance, seededWords } from '#kernel/seeded'
import { LATE_WINDOW } from '#sale/price/late-bid.rules'
import { often } from '#sale/simulation/chance.rules'
import { playDay } from '#sale/simulation/day.rules'
import { type LateBidding, playLateBids } from '#sale/simulation/late-bids.rules'
import type { DayQuestion } from '#sale/simulation/simulation.contract'

/*
 * Bids that change leader or price arrive as a Poisson process of rate λ; w = 120 s, μ = λw expected in the last two minutes.
 * The close stands w after the last of them, so that the lot closes as soon as w passes without one, counted from w before
 * its announced time: a renewal process with exponential gaps, broken off by the first gap of at least w.
 *
 *   each gap is shorter than w with p = 1 − e^−μ, independently of the others, so the number N of extensions is geometric:
 *     P(N = 0) = e^−μ    E[N] = p / (1 − p) = e^μ − 1
 *   a gap that is shorter than w has the mean 1/λ − w·e^−μ / (1 − e^−μ), and the extension is the sum of N of them (Wald):
 *     E[extension] = (e^μ − 1) · (1/λ − w·e^−μ / (1 − e^−μ)) = (e^μ − 1)/λ − w
 *   the extension exceeds x when none of the n + 1 spacings that n arrivals leave of the length L = w + x reaches w; for n
 *   uniform points (Stevens 1939, "Solution to a geometrical problem in probability", Annals of Eugenics 9, from memory)
 *     P(all spacings < w) = Σ_k (−1)^k C(n + 1, k) (1 − kw/L)₊^n, and n is Poisson with mean λL.
 *   when each extension leaves the share d of the interest, gap i has the rate λ·dⁱ:
 *     P(N ≥ k) = Π_{i<k} (1 − e^{−μ·dⁱ})    E[N] = Σ_{k≥1} P(N ≥ k)
 */
const CLOSES = 10 * HOUR
const PLAYS = 40_000

function playMany(lateBids: number, left = 1) {
  const chance = seededChance(7)
  return Array.from({ length: PLAYS }, () => {
    const lot: LateBidding = { closesAt: CLOSES, from: 0, extensions: 0 }
    playLateBids(lot, lateBids, left, Number.POSITIVE_INFINITY, chance)
    return { extensions: lot.extensions, extension: lot.closesAt - CLOSES }
  })
}

/** How many standard errors of its mean the sample lies from what the formula says. Beyond four and a half: once in 150,000. */
function errorsAway(sample: number[], expected: number): number {
  const mean = sample.reduce((sum, one) => sum + one, 0) / sample.length
  const variance = sample.reduce((sum, one) => sum + (one - mean) ** 2, 0) / sample.length
  return Math.abs(mean - expected) / Math.sqrt(variance / sample.length)
}

test.each([0.2, 0.7, 1, 1.8])('with %s late bids expected in two minutes, extensions come as the closed forms say', (mu) => {
  const plays = playMany(mu)
  const rate = mu / LATE_WINDOW
  const none = plays.map(({ extensions }) => (extensions === 0 ? 1 : 0))
  expect(errorsAway(none, Math.exp(-mu))).toBeLessThan(4.5)
  expect(
    errorsAway(
      plays.map(({ extensions }) => extensions),
      Math.exp(mu) - 1,
    ),
  ).toBeLessThan(4.5)
  expect(
    errorsAway(
      plays.map(({ extension }) => extension),
      (Math.exp(mu) - 1) / rate - LATE_WINDOW,
    ),
  ).toBeLessThan(4.5)
})

test.each([0.8, 0.5])('where an extension leaves %s of the interest, the number of them is as the product says', (left) => {
  const mu = 1.5
  let reached = 1
  let expected = 0
  for (let k = 0; k < 60; k++) {
    reached *= 1 - Math.exp(-mu * left ** k)
    expected += reached
  }
  expect(
    errorsAway(
      playMany(mu, left).map(({ extensions }) => extensions),
      expected,
    ),
  ).toBeLessThan(4.5)
})

/** P(extension > x) by Stevens' spacings. */
function exceeds(x: number, mu: number): number {
  const length = LATE_WINDOW + x
  const mean = (mu / LATE_WINDOW) * length
  let whole = 0
  let poisson = Math.exp(-mean)
  for (let n = 0; n < 80; n++) {
    if (n > 0) poisson *= mean / n
    let sum = 0
    let choose = 1
    for (let k = 0; k <= n + 1 && k * LATE_WINDOW < length; k++) {
      if (k > 0) choose *= (n + 2 - k) / k
      sum += (k % 2 === 0 ? 1 : -1) * choose * (1 - (k * LATE_WINDOW) / length) ** n
    }
    whole += poisson * sum
  }
  return whole
}

test.each([1, 3, 5, 9])('an extension is longer than %s minutes as often as the spacings of a Poisson process say', (minutes) => {
  const mu = 1.2
  const x = minutes * MINUTE
  const beyond = playMany(mu).map(({ extension }) => (extension > x ? 1 : 0))
  expect(errorsAway(beyond, exceeds(x, mu))).toBeLessThan(4.5)
})

const QUIET: DayQuestion = {
  from: 0,
  closesAt: 12 * HOUR,
  closings: [
    { lot: 1, at: 5 * HOUR, lateBids: 0 },
    { lot: 2, at: 5 * HOUR + 20 * MINUTE, lateBids: 0 },
  ],
  spans: [],
  basis: 'followers',
  likely: {
    bidsForEachFollower: 0,
    watchers: 0,
    enoughShare: 0.9,
    leftAfterExtension: 1,
    guestOver: { share: 0, meanMs: 1 },
    lost: { perHour: 0, meanMs: 1 },
    allowanceMs: 0,
  },
  days: 1,
  seed: 1,
}

const playDays = (question: DayQuestion) => {
  const chance = seededChance(11)
  return Array.from({ length: PLAYS }, () => playDay(question, chance))
}

test('two closings collide as often as the first is extended beyond the room between them', () => {
  const mu = 1.2
  const [first, second] = QUIET.closings
  if (!first || !second) throw new Error('the day has two closings')
  const days = playDays({ ...QUIET, closings: [{ ...first, lateBids: mu }, second] })
  // Twenty minutes apart, of which five and ten are the host's.
  expect(
    errorsAway(
      days.map(({ collides }) => (collides[0] ? 1 : 0)),
      exceeds(5 * MINUTE, mu),
    ),
  ).toBeLessThan(4.5)
})

/*
 * A stream that is lost at a rate r and comes back at the rate b is up at s with
 *   P(up at s) = b / (r + b) + r / (r + b) · e^−(r + b)s    (a machine that fails and is mended: an alternating renewal process)
 * A closing at T moves when the clocks stand at T − 15 min or later: it stays when the stream is up then and not lost any more,
 *   P(stays) = P(up at T − 15 min) · e^−r·15 min
 */
test('a stream that is lost and found moves a closing as often as it is down in the last quarter of an hour before it', () => {
  const [perHour, meanMs] = [0.4, 20 * MINUTE]
  const days = playDays({ ...QUIET, likely: { ...QUIET.likely, lost: { perHour, meanMs } } })
  const [r, back, quarter] = [perHour / HOUR, 1 / meanMs, 15 * MINUTE]
  const up = back / (r + back) + (r / (r + back)) * Math.exp(-(r + back) * (5 * HOUR - quarter))
  const moved = days.map(({ closedAt }) => ((closedAt[0] ?? 0) > 5 * HOUR ? 1 : 0))
  expect(errorsAway(moved, 1 - up * Math.exp(-r * quarter))).toBeLessThan(4.5)
  expect(days.some(({ collides }) => collides.some(Boolean))).toBe(false)
})

test('a guest takes the host’s minutes with share × e^(−room / mean)', () => {
  const guest = { kind: 'guest', title: 'a guest', from: 4 * HOUR, to: 5 * HOUR - 14 * MINUTE, keepsTime: false } as const
  const days = playDays({ ...QUIET, spans: [guest], likely: { ...QUIET.likely, guestOver: { share: 0.4, meanMs: 6 * MINUTE } } })
  const squeezed = days.map((day) => (day.squeezed[0] ? 1 : 0))
  expect(errorsAway(squeezed, 0.4 * Math.exp(-4 / 6))).toBeLessThan(4.5)
})

test('the generator is the published one: its 10,000th word for the seed 5489', () => {
  // C++ standard, [rand.predef]: the 10000th consecutive invocation of mt19937 produces 4123659995 (from memory).
  const word = seededWords(5489)
  for (let count = 1; count < 10_000; count++) word()
  expect(word()).toBe(4_123_659_995)
})

test.each([
  // Newcombe 1998, Statistics in Medicine 17, 857–872, table I, method 3 (from memory).
  [81, 263, 0.2553, 0.3662],
  [15, 148, 0.0624, 0.1605],
  [0, 20, 0, 0.1611],
  [1, 29, 0.0061, 0.1718],
])('%d of %d has the interval that is published', (times, of, low, high) => {
  const interval = often(times, of)
  expect(interval.low).toBeCloseTo(low, 4)
  expect(interval.high).toBeCloseTo(high, 4)
})
