import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'

/** WCAG 2.2, relative luminance and contrast ratio (success criteria 1.4.3 and 1.4.11). */
function luminance(hex: string): number {
  const channels = [1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16) / 255)
  const [r = 0, g = 0, b = 0] = channels.map((v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4))
  return 0.2126 * r + 0.7152 * g + 0.0722 * b
}

function contrast(one: string, other: string): number {
  const [low = 0, high = 0] = [luminance(one), luminance(other)].sort((a, b) => a - b)
  return (high + 0.05) / (low + 0.05)
}

const sheet = readFileSync(`${import.meta.dirname}/../../app/_ui/look/tokens.css`, 'utf8')

/** The colours of the block that begins with `head`; the first after `from`. */
function colours(head: string, from = 0): Record<string, string> {
  const start = sheet.indexOf(head, from)
  expect(start, `${head} is in tokens.css`).toBeGreaterThanOrEqual(0)
  const block = sheet.slice(start, sheet.indexOf('}', start))
  return Object.fromEntries([...block.matchAll(/--([\w-]+):\s*(#[0-9a-f]{6});/g)].map(([, name = '', hex = '']) => [name, hex]))
}

const light = colours(':root {')
const dark = colours(':root {', sheet.indexOf('prefers-color-scheme: dark'))
const air = colours('.air {')

/** Every text that pages and pieces set, on every ground on which they set it. */
const TEXT: readonly [text: string, ...grounds: string[]][] = [
  ['ink', 'paper', 'card', 'shade', 'field', 'copper-tint'],
  ['quiet', 'paper', 'card', 'shade'],
  ['copper', 'paper', 'card', 'shade', 'copper-tint'],
  ['mask', 'paper', 'card', 'shade'],
  ['oxide', 'paper', 'card', 'shade'],
  ['amber', 'paper', 'card', 'shade'],
  ['mask-ink', 'mask-tint'],
  ['oxide-ink', 'oxide-tint'],
  ['amber-ink', 'amber-tint'],
  ['on-copper', 'copper'],
  ['on-oxide', 'oxide'],
]

/** What must be seen though it is not read: edges of controls, wires, ticks on their bands. */
const DRAWN: readonly [line: string, ...grounds: string[]][] = [
  ['edge', 'paper', 'card', 'field'],
  ['wire', 'paper', 'card', 'shade'],
  ['mask', 'mask-tint'],
  ['amber', 'mask-tint'],
  ['oxide', 'mask-tint', 'shade'],
  ['quiet', 'mask-tint'],
]

describe.each([
  ['by day', light, 4.5],
  ['at night', dark, 4.5],
  ['on air', air, 7],
])('%s', (_name, set, least) => {
  const hex = (name: string) => {
    const found = set[name]
    if (!found) throw new Error(`--${name} is not a colour of this set`)
    return found
  }
  test.each(TEXT.flatMap(([text, ...grounds]) => grounds.map((ground) => [text, ground] as const)))(
    `%s on %s is read at ${least} to 1`,
    (text, ground) => {
      expect(contrast(hex(text), hex(ground))).toBeGreaterThanOrEqual(least)
    },
  )
  test.each(DRAWN.flatMap(([line, ...grounds]) => grounds.map((ground) => [line, ground] as const)))(
    '%s on %s is seen at 3 to 1',
    (line, ground) => {
      expect(contrast(hex(line), hex(ground))).toBeGreaterThanOrEqual(3)
    },
  )
})

test('the measure agrees with WCAG: black on white is 21 to 1, #767676 on white just passes 4.5', () => {
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 10)
  expect(contrast('#767676', '#ffffff')).toBeGreaterThanOrEqual(4.5)
  expect(contrast('#777777', '#ffffff')).toBeLessThan(4.5)
})

test('every colour of the day has its like at night and on air', () => {
  const names = Object.keys(light).sort()
  expect(names.length).toBeGreaterThan(20)
  expect(Object.keys(dark).sort()).toEqual(names)
  expect(Object.keys(air).sort()).toEqual(names)
})
