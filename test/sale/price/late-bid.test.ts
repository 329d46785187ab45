import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it, test } from 'vitest'
import { MINUTE, SECOND } from '#kernel/instant'
import { sayLeaf } from '#sale/history/leaf-words.rules'
import { afterLateBid, isLate, LATE_WINDOW, lateBidReason, lateBidRule, lateWindowCount, lateWindowWords } from '#sale/price/late-bid.rules'

const CLOSES = 1_000_000

describe('a bid', () => {
  it.each([
    [-LATE_WINDOW - 1, false],
    [-LATE_WINDOW, false],
    [-LATE_WINDOW + 1, true],
    [-1, true],
  ])('%s ms from the closing is late: %s, and moves it to a whole window after itself only then', (from, late) => {
    expect(isLate(CLOSES, CLOSES + from)).toBe(late)
    expect(afterLateBid(CLOSES, CLOSES + from)).toBe(late ? CLOSES + from + LATE_WINDOW : CLOSES)
  })

  it('follows another window where a sale has one', () => {
    expect(isLate(CLOSES, CLOSES - LATE_WINDOW - 1, LATE_WINDOW + 2)).toBe(true)
    expect(afterLateBid(CLOSES, CLOSES - 1, 30 * SECOND)).toBe(CLOSES - 1 + 30 * SECOND)
  })
})

test.each([
  [120 * SECOND, 'two minutes', 'two'],
  [5 * MINUTE, 'five minutes', 'five'],
  [10 * MINUTE, 'ten minutes', 'ten'],
  [11 * MINUTE, '11 minutes', '11'],
  [60 * SECOND, '60 seconds', '60'],
  [90 * SECOND, '90 seconds', '90'],
  [150 * SECOND, '150 seconds', '150'],
])('a window of %s ms is said as "%s"', (windowMs, words, count) => {
  expect(lateWindowWords(windowMs)).toBe(words)
  expect(lateWindowCount(windowMs)).toBe(count)
  expect(lateBidRule(windowMs)).toBe(`A bid in the last ${words} moves the closing to ${words} after it.`)
  expect(lateBidReason(windowMs)).toBe(`A bid came in the last ${words}.`)
})

test('an extension that was signed under another window is told as it was signed', () => {
  const at = new Date(CLOSES).toISOString()
  const leaf = { kind: 'extended', at, closesAt: at, by: 'rule', reason: lateBidReason(5 * MINUTE) } as const
  expect(sayLeaf(leaf, 'GBP')).toBe('A bid came in the last five minutes, so the closing moved.')
})

test('the minutes are written in one place: no sentence, page or letter says them by itself', () => {
  const root = join(import.meta.dirname, '..', '..', '..')
  const said = ['app', 'server', 'seed'].flatMap((folder) =>
    readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
      .filter((file) => /\.(tsx?|css|mjs)$/.test(file))
      .map((file) => join(folder, file))
      .filter((file) => /\btwo[ -]minutes?\b|\blast 120\b|\b120 ?s\b/i.test(readFileSync(join(root, file), 'utf8'))),
  )
  expect(said).toEqual(['server/sale/price/late-bid.rules.ts'])
})

test('the public description of a history says the window that the house has', () => {
  const format = readFileSync(join(import.meta.dirname, '..', '..', '..', 'public', 'history-format.md'), 'utf8')
  const seconds = LATE_WINDOW / SECOND
  expect(format.replace(/\s+/g, ' ')).toContain(`comes less than ${seconds} s before the closing moves it to ${seconds} s after itself`)
})
