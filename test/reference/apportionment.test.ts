import { describe, expect, it } from 'vitest'
import { splitMoney } from '#kernel/money'
import { rows } from './apportionment.json'

const list = (value: unknown): number[] => (Array.isArray(value) ? value : Object.values(value as Record<string, number>))

/** One published case may hold several totals, or several sets of weights; each is checked alone. */
const cases = rows.flatMap((row) => {
  if (!('weights' in row) || !('result' in row)) return []
  const weights: unknown[] = Array.isArray(row.weights) && Array.isArray(row.weights[0]) ? row.weights : [row.weights]
  const totals: unknown[] = Array.isArray(row.total) ? row.total : [row.total]
  const several = weights.length > 1 || totals.length > 1
  return Array.from({ length: Math.max(weights.length, totals.length) }, (_, index) => ({
    name: row.name,
    weights: list(weights[index] ?? weights[0]),
    total: Number(totals[index] ?? totals[0]),
    result: list(several && Array.isArray(row.result) ? row.result[index] : row.result),
  }))
})

describe('splits by largest remainder, against published apportionments', () => {
  it.each(cases)('$name: $total', ({ weights, total, result }) => {
    expect(splitMoney(total, weights)).toEqual(result)
  })

  it('checks every row that has weights and a result', () => {
    expect(cases).toHaveLength(15)
  })
})
