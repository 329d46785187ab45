import { describe, expect, it, test } from 'vitest'
import { seededChance } from '#kernel/seeded'
import { makeTerms } from '#test/make/lot-history'
import { mutantsOf, mutated } from './mutants'
import { ordeal } from './ordeal'
import { checkOrder } from './order'
import { PLANTED, soundOrder, withMistake } from './planted-orders'
import { judge } from './record'
import { stepsOf } from './steps'
import { isKept, tableOf, verdictOf } from './table'
import { Lie, type Row } from './trial'

// What the ordeal relies on can fail: each mistake that is planted is found, and nothing is found where there is none.

describe('the checker of orders', () => {
  it.each(Array.from({ length: 40 }, (_, seed) => seed))(
    'finds nothing in what a lot that keeps its rules may have shown (seed %i)',
    (seed) => {
      const { lot, operations } = soundOrder(seededChance(seed), makeTerms({ reserveMinor: seed % 2 === 0 ? 9_000 : null }), 200)
      expect(checkOrder(lot, operations)).toEqual([])
    },
  )

  const { lot, operations } = soundOrder(seededChance(7), makeTerms({ reserveMinor: 9_000 }), 200)
  it.each(Object.entries(PLANTED))('finds that %s', (_, change) => {
    expect(checkOrder(lot, withMistake(operations, change))).not.toEqual([])
  })

  it('has twenty of them planted', () => {
    expect(Object.keys(PLANTED)).toHaveLength(20)
  })
})

describe('the keeper of the record', () => {
  const record = [
    { key: 'a', isAnswered: true },
    { key: 'b', isAnswered: false },
    { key: 'c', isAnswered: true },
  ]
  const standing = (...keys: (string | null)[]) => keys.map((key) => ({ key, words: `entry of ${key}` }))

  it.each([
    ['all that was asked', ['a', 'b', 'c']],
    ['all that was answered', ['a', 'c']],
  ])('has no complaint where there stands %s', (_, keys) => {
    expect(judge(record, standing(...keys))).toEqual([])
  })

  it.each([
    ['an answer that is lost', ['a', 'b'], 'lost'],
    ['an answer that stands there twice', ['a', 'c', 'c'], 'doubled'],
    ['what got no answer and stands there twice', ['a', 'b', 'b', 'c'], 'doubled'],
    ['what nobody asked for', ['a', 'c', 'x'], 'not asked'],
    ['what no key leads to', ['a', 'c', null], 'not asked'],
  ])('finds %s', (_, keys, kind) => {
    expect(judge(record, standing(...keys)).map((fault) => fault.kind)).toEqual([kind])
  })
})

describe('the table', () => {
  const row = (id: string, run: Row['run']): Row => ({ id, what: 'a row', goal: 'some', times: 5, unit: 'times', run })
  const idle = row('A', async () => {})
  const busy = row('B', async (trial) => {
    while (trial.goesOn()) trial.tried()
  })
  const liar = row('C', async (trial) => {
    trial.tried()
    throw new Lie('nothing is lost', 'a bid is gone', 'round 1')
  })
  const left = row('D', async (trial) => trial.leaveOut('there is no strace here'))
  const wishes = { seed: 1, seconds: 5 }

  it('counts a row that tried nothing as no success, and one that is left out as neither', async () => {
    const { lines } = await ordeal([idle, busy, left], wishes)
    expect(lines.map(({ result }) => verdictOf(result))).toEqual(['not tried', 'kept', 'left out'])
    expect(isKept(lines)).toBe(false)
    expect(isKept(lines.slice(1))).toBe(true)
    expect(isKept(lines.slice(2))).toBe(false)
    expect(tableOf(lines)).toContain('left out: there is no strace here')
  })

  it('stops at the first lie, and says what was promised and seen', async () => {
    const { lines, told } = await ordeal([busy, liar, busy], wishes)
    expect(lines.map(({ result }) => verdictOf(result))).toEqual(['kept', 'NOT AS PROMISED', 'not run'])
    expect(told?.lie).toMatchObject({ promised: 'nothing is lost', seen: 'a bid is gone', step: 'round 1' })
    expect(isKept(lines)).toBe(false)
  })

  test('what a row started is ended when it lied as well, and a fault of the row itself is no lie of the house', async () => {
    const ended: string[] = []
    const opens = (reason: Error) =>
      row('E', async (trial) => {
        trial.atEnd(() => ended.push('first'))
        trial.atEnd(() => ended.push('second'))
        throw reason
      })
    expect((await ordeal([opens(new Lie('a', 'b', 'c'))], wishes)).told).not.toBeNull()
    await expect(ordeal([opens(new Error('a mistake of the row'))], wishes)).rejects.toThrow('a mistake of the row')
    expect(ended).toEqual(['second', 'first', 'second', 'first'])
  })
})

describe('the maker of mutants', () => {
  const source = `import { x } from './x'
type Small = 1 | 2
export const least = (a: number, b: number): number => (a < b && a > 0 ? Math.max(a, 10) : b - 1)
export const words = 'a' + 'b'
`
  const all = mutantsOf(source)

  it('turns each comparison, sum, condition and number once, and leaves types and texts alone', () => {
    expect(all.map(({ was, is }) => `${was} → ${is}`).sort()).toEqual(
      ['< → <=', '> → >=', '&& → ||', '- → +', '0 → 1', '1 → 2', '10 → 11', 'max → min', 'a < b && a > 0 → !(a < b && a > 0)'].sort(),
    )
    expect(new Set(all.map(({ line }) => line))).toEqual(new Set([3]))
  })

  it('changes that one place and no other', () => {
    const one = all.find(({ was }) => was === '<')
    expect(one && mutated(source, one)).toBe(source.replace('a < b', 'a <= b'))
  })
})

describe('the steps of a trace', () => {
  const trace = [
    '7 mkdir("/house/backups/2027-03-13T12-00-00-000Z.part", 0700) = 0',
    '7 pwrite64(5</house/tagstrip.db-wal>, "x"..., 24, 0) = 24',
    '7 pwrite64(5</house/tagstrip.db-wal>, "x"..., 24, 24) = 24',
    '7 fsync(9</elsewhere/file>) = 0',
    '8 fsync(5</house/tagstrip.db-wal>) = 0',
    '7 fsync(5</house/tagstrip.db>) = 0',
  ].join('\n')

  it('have each name once, with its place among the calls of its thread', () => {
    expect(stepsOf(trace, '/house')).toEqual([
      { name: 'mkdir ….part', call: 'mkdir', nth: 1 },
      { name: 'pwrite64 tagstrip.db-wal', call: 'pwrite64', nth: 1 },
      { name: 'fsync tagstrip.db-wal', call: 'fsync', nth: 1 },
      { name: 'fsync tagstrip.db', call: 'fsync', nth: 2 },
    ])
  })
})
