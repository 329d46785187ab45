import { expect, test } from 'vitest'
import { calls, titleMark } from '#app/_ui/told/call.rules.ts'
import { whyNoMessages } from '#app/_ui/told/where-messages-work.rules.ts'
import { NOON } from '#test/stage'

const place = {
  isSecure: true,
  knowsMessages: true,
  origin: 'https://bench.example',
  publicUrl: 'https://bench.example',
  permission: 'default',
} as const

test.each([
  ['a page over plain HTTP', { isSecure: false, origin: 'http://192.168.1.20:4170' }, 'Messages need HTTPS'],
  ['another address than the house’s own', { origin: 'https://other.example' }, 'come from https://bench.example'],
  ['a browser without them', { knowsMessages: false }, 'cannot show messages from pages'],
  ['a reader who refused them', { permission: 'denied' }, 'Allow them in its settings'],
] as const)('%s is told why there are no messages, and that email comes', (_, change, words) => {
  expect(whyNoMessages({ ...place, ...change })).toContain(words)
  expect(whyNoMessages({ ...place, ...change })).toContain('by email')
})

test('elsewhere there can be messages', () => {
  expect(whyNoMessages(place)).toBeNull()
  expect(whyNoMessages({ ...place, origin: 'http://localhost:4170', publicUrl: 'http://localhost:4170', permission: 'granted' })).toBeNull()
})

const open = {
  state: 'open' as const,
  closesAt: NOON + 600_000,
  lateBid: { windowMs: 120_000, addsMs: 120_000 },
  leaderAlias: 'KT',
  voidedAliases: [] as string[],
  extendedTimes: 0,
}

test('the title of a tab says outbid, and the time in the last minutes', () => {
  expect(titleMark(open, 'KT', NOON)).toBe('')
  expect(titleMark(open, 'MB', NOON)).toBe('Outbid')
  expect(titleMark({ ...open, voidedAliases: ['MB'] }, 'MB', NOON)).toBe('')
  expect(titleMark(open, 'KT', NOON + 480_000)).toBe('2:00')
  expect(titleMark(open, 'MB', NOON + 553_000)).toBe('Outbid, 0:47')
  expect(titleMark(open, 'MB', NOON + 600_000)).toBe('Outbid')
  expect(titleMark({ ...open, state: 'sold' }, 'MB', NOON + 553_000)).toBe('')
})

test('a reader is called when they are outbid, when the last minutes begin and when they begin again, once each', () => {
  const at = (now: number, change: Partial<typeof open> = {}) => ({ frame: { ...open, ...change }, now })
  expect(calls(at(NOON), at(NOON + 1000), 'KT')).toBe(false)
  expect(calls(at(NOON), at(NOON + 1000, { leaderAlias: 'MB' }), 'KT')).toBe(true)
  expect(calls(at(NOON, { leaderAlias: 'MB' }), at(NOON + 1000, { leaderAlias: 'AA' }), 'KT')).toBe(false)
  expect(calls(at(NOON + 479_000), at(NOON + 480_000), null)).toBe(true)
  expect(calls(at(NOON + 480_000), at(NOON + 481_000), null)).toBe(false)
  expect(calls(at(NOON + 590_000), at(NOON + 591_000, { extendedTimes: 1, closesAt: NOON + 711_000 }), null)).toBe(true)
})
