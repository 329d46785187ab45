import betaCdf from '@stdlib/stats-base-dists-beta-cdf'
import { describe, expect, it } from 'vitest'
import { pertCdf, pertShape, uniformCdf } from '#money/forecast/outlook.rules'
import { add, atLeast, meanOf, type OnGrid, onGrid, quantile, type Spread, varianceOf } from '#money/forecast/sum.rules'

// Closed forms, from memory of any text on probability: Irwin (1927) and Hall (1927) for sums of uniforms,
// Simpson for two of them, Malcolm and others (1959) for the three-point estimate, order statistics of uniforms.

const STEP = 1 / 512
const uniform: Spread = { least: 0, most: 1, atMost: (x) => uniformCdf(x, 0, 1) }
const triangularCdf = (x: number) => (x <= 0 ? 0 : x >= 2 ? 1 : x <= 1 ? x ** 2 / 2 : 1 - (2 - x) ** 2 / 2)
const triangular: Spread = { least: 0, most: 2, atMost: triangularCdf }
const sumOf = (spread: Spread, n: number, step = STEP): OnGrid =>
  Array.from({ length: n }, () => onGrid(spread, step)).reduce((sum, each) => add(sum, each))
const factorial = (n: number): number => (n <= 1 ? 1 : n * factorial(n - 1))
const choose = (n: number, k: number) => factorial(n) / factorial(k) / factorial(n - k)
/** F(x) = 1/n! Σ (−1)^k C(n, k) (x − k)^n over k ≤ x. */
const irwinHall = (x: number, n: number) =>
  Array.from({ length: Math.floor(x) + 1 }, (_, k) => (-1) ** k * choose(n, k) * (x - k) ** n).reduce((a, b) => a + b, 0) / factorial(n)

describe('sums on the grid, against closed forms', () => {
  it.each([
    [1, 0.25],
    [2, 0.7],
    [3, 1.5],
    [4, 1.1],
    [6, 3.9],
    [12, 7.2],
  ])('of %i uniforms, at %f, within the bound that is stated', (n, x) => {
    const sum = sumOf(uniform, n)
    const bound = (n * STEP) / 2
    const exact = 1 - irwinHall(x, n)
    expect(atLeast(sum, x + bound)).toBeLessThanOrEqual(exact + 1e-9)
    expect(atLeast(sum, x - bound)).toBeGreaterThanOrEqual(exact - 1e-9)
    expect(Math.abs(atLeast(sum, x) - exact)).toBeLessThan(bound + 1e-9)
  })

  it('two uniforms make a triangle, and k triangles are 2k uniforms', () => {
    for (const x of [0.3, 1, 1.6]) expect(Math.abs(1 - atLeast(sumOf(uniform, 2), x) - triangularCdf(x))).toBeLessThan(STEP)
    for (const x of [2.1, 4, 5.3]) expect(Math.abs(1 - atLeast(sumOf(triangular, 4), x) - irwinHall(x, 8))).toBeLessThan(2 * STEP)
  })

  it('the mean of n uniforms is n/2, their variance n/12; of a triangle 1 and 1/6', () => {
    expect(meanOf(sumOf(uniform, 12))).toBeCloseTo(6, 3)
    expect(varianceOf(sumOf(uniform, 12))).toBeCloseTo(1, 3)
    expect(meanOf(sumOf(triangular, 1))).toBeCloseTo(1, 3)
    expect(varianceOf(sumOf(triangular, 1))).toBeCloseTo(1 / 6, 3)
  })

  it('halving the step halves the error, at least', () => {
    const error = (step: number) => Math.abs(atLeast(sumOf(uniform, 3, step), 2.2 - 1e-7) - (1 - irwinHall(2.2, 3)))
    expect(error(1 / 32)).toBeLessThan(3 / 64)
    expect(error(1 / 256)).toBeLessThan(error(1 / 32) / 2)
  })

  it('the quantile of a uniform is the chance itself', () => {
    expect(quantile(onGrid(uniform, STEP), 0.1)).toBeCloseTo(0.1, 2)
    expect(quantile(onGrid(uniform, STEP), 0.9)).toBeCloseTo(0.9, 2)
  })
})

describe('the three-point estimate', () => {
  it.each([
    [120, 180, 240],
    [100, 110, 200],
    [0, 50, 50],
    [10, 10, 90],
  ])('of %i, %i, %i has mean (a + 4m + b) / 6 and variance (μ − a)(b − μ) / 7', (a, m, b) => {
    const grid = onGrid({ least: a, most: b, atMost: (x) => pertCdf(x, a, m, b) }, (b - a) / 2048)
    const mean = (a + 4 * m + b) / 6
    expect(meanOf(grid)).toBeCloseTo(mean, 1)
    expect(varianceOf(grid) / (((mean - a) * (b - mean)) / 7)).toBeCloseTo(1, 3)
  })

  it('of 0, 1/2, 1 has a deviation close to the sixth of its width that is taught', () => {
    const [alpha, beta] = pertShape(0, 0.5, 1)
    expect([alpha, beta]).toEqual([3, 3])
    expect(Math.sqrt(1 / 28) / (1 / 6)).toBeCloseTo(1.134, 3)
  })

  it.each([0.1, 0.3, 0.5, 0.8])('of 0, 1/4, 1 is the second least of five uniforms, at %f', (x) => {
    // P(at least two of five are below x), the distribution of an order statistic; its mean is 2 / 6.
    const atLeastTwo = [2, 3, 4, 5].reduce((sum, j) => sum + choose(5, j) * x ** j * (1 - x) ** (5 - j), 0)
    expect(pertCdf(x, 0, 0.25, 1)).toBeCloseTo(atLeastTwo, 10)
    expect(betaCdf(x, 2, 4)).toBeCloseTo(atLeastTwo, 10)
  })
})
