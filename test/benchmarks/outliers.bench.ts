import { test } from 'vitest'
import { grubbsLimit, modifiedZ } from '#bench/faults/spread.rules'
import { chances } from '#test/make/search'

// How often each rule calls a run of good readings odd, and how often it finds one that is six deviations off. Asserts nothing: it prints.
const RUNS = 4000
const COUNTS = [3, 4, 5, 7, 9, 10, 12, 16, 24]

function normal(chance: () => number): number {
  return Math.sqrt(-2 * Math.log(1 - chance())) * Math.cos(2 * Math.PI * chance())
}

const middle = (values: number[]) => {
  const sorted = [...values].sort((a, b) => a - b)
  const at = Math.floor(sorted.length / 2)
  return sorted.length % 2 === 1 ? (sorted[at] ?? 0) : ((sorted[at - 1] ?? 0) + (sorted[at] ?? 0)) / 2
}

const RULES: { name: string; names(values: number[]): boolean }[] = [
  {
    name: 'Grubbs at 1 in 100',
    names: (values) => {
      const mean = values.reduce((sum, one) => sum + one, 0) / values.length
      const deviation = Math.sqrt(values.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (values.length - 1))
      return Math.max(...values.map((one) => Math.abs(one - mean))) / deviation > grubbsLimit(values.length, 0.01)
    },
  },
  {
    name: 'modified z over 3.5',
    names: (values) =>
      modifiedZ(
        values.map((value, index) => ({ tag: String(index), value, doubt: null, step: null })),
        middle(values),
      ).length > 0,
  },
]

test('who is called odd', () => {
  for (const { name, names } of RULES) {
    const words = COUNTS.map((count) => {
      const chance = chances(count)
      const share = (shift: number) => {
        let named = 0
        for (let run = 0; run < RUNS; run++) {
          const values = Array.from({ length: count }, (_, index) => normal(chance) + (index === 0 ? shift : 0))
          if (names(values)) named++
        }
        return `${((named / RUNS) * 100).toFixed(1)} %`
      }
      return `n = ${count}: ${share(0)} of good runs, ${share(6)} with a stray`
    })
    process.stdout.write(`${name}\n  ${words.join('\n  ')}\n`)
  }
})
