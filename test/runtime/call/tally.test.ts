import { expect, test } from 'vitest'
import { openTally } from '#runtime/call/tally'

test('an origin has so many open at once; another is not held up by it', () => {
  const tally = openTally(2)
  const [first, second] = [tally.take('192.0.2.1'), tally.take('192.0.2.1')]
  expect(first).not.toBeNull()
  expect(second).not.toBeNull()
  expect(tally.take('192.0.2.1')).toBeNull()
  expect(tally.take('192.0.2.2')).not.toBeNull()
})

test('what is over makes room for one more, however often it is said', () => {
  const tally = openTally(2)
  const first = tally.take('192.0.2.1')
  tally.take('192.0.2.1')
  first?.()
  first?.()
  expect(tally.take('192.0.2.1')).not.toBeNull()
  expect(tally.take('192.0.2.1')).toBeNull()
})

test('addresses of one line are one origin', () => {
  const tally = openTally(1)
  expect(tally.take('2001:db8:1:2::1')).not.toBeNull()
  expect(tally.take('2001:db8:1:2:ffff::2')).toBeNull()
  expect(tally.take('2001:db8:1:3::1')).not.toBeNull()
})
