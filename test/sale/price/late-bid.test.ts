import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it, test } from 'vitest'
import { MINUTE, SECOND } from '#kernel/instant'
import { sayLeaf } from '#sale/history/leaf-words.rules'
import { afterLateBid, isLate, LATE_WINDOW, lateBidOf, lateBidReason, lateBidRule, lateWindowWords } from '#sale/price/late-bid.rules'

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
    const rule = { windowMs: 30 * SECOND, addsMs: 90 * SECOND }
    expect(isLate(CLOSES, CLOSES - 30 * SECOND, rule)).toBe(false)
    expect(isLate(CLOSES, CLOSES - 30 * SECOND + 1, rule)).toBe(true)
    expect(afterLateBid(CLOSES, CLOSES - 30 * SECOND, rule)).toBe(CLOSES)
    expect(afterLateBid(CLOSES, CLOSES - 1, rule)).toBe(CLOSES - 1 + 90 * SECOND)
    // Terms from before there was a rule in them.
    expect(lateBidOf({})).toEqual({ windowMs: 120_000, addsMs: 120_000 })
    expect(lateBidOf({ lateBid: rule })).toBe(rule)
  })
})

test.each([
  [120 * SECOND, 'two minutes'],
  [5 * MINUTE, 'five minutes'],
  [10 * MINUTE, 'ten minutes'],
  [11 * MINUTE, '11 minutes'],
  [60 * SECOND, '60 seconds'],
  [90 * SECOND, '90 seconds'],
  [150 * SECOND, '150 seconds'],
])('a window of %s ms is said as "%s"', (windowMs, words) => {
  expect(lateWindowWords(windowMs)).toBe(words)
  const rule = { windowMs, addsMs: windowMs }
  expect(lateBidRule(rule)).toBe(`A bid in the last ${words} moves the closing to ${words} after it.`)
  expect(lateBidReason(rule)).toBe(`A bid came in the last ${words}.`)
})

test('what a late bid adds is said with its own unit where that of the window is another', () => {
  expect(lateBidRule({ windowMs: 90 * SECOND, addsMs: 3 * MINUTE })).toBe(
    'A bid in the last 90 seconds moves the closing to three minutes after it.',
  )
})

test('an extension that was signed under another window is told as it was signed', () => {
  const at = new Date(CLOSES).toISOString()
  const leaf = { kind: 'extended', at, closesAt: at, by: 'rule', reason: lateBidReason({ windowMs: 5 * MINUTE }) } as const
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

test('the public description of a history says the rule of terms that say none', () => {
  const format = readFileSync(join(import.meta.dirname, '..', '..', '..', 'public', 'history-format.md'), 'utf8').replace(/\s+/g, ' ')
  expect(format).toContain('`lateBid`')
  expect(format).toContain(`terms that say none follow ${LATE_WINDOW} and ${LATE_WINDOW}`)
})
