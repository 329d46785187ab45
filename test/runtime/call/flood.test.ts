import { expect, test } from 'vitest'
import { MINUTE } from '#kernel/instant'
import { openFloods, placeOf } from '#runtime/call/flood'

const limit = { name: 'promise', each: 3, all: 5, perMinutes: 10, words: 'Many came.' }

test('one address is let in so often, then told how long to wait; another is not held up by it', () => {
  const floods = openFloods()
  for (let count = 0; count < 3; count++) expect(floods.admit(limit, '192.0.2.1', 0)).toBeNull()
  expect(floods.admit(limit, '192.0.2.1', 0)).toBe(4)
  expect(floods.admit(limit, '192.0.2.2', 0)).toBeNull()
})

test('what was let in is refilled evenly, and never above the brim', () => {
  const floods = openFloods()
  for (let count = 0; count < 3; count++) floods.admit(limit, '192.0.2.1', 0)
  expect(floods.admit(limit, '192.0.2.1', 4 * MINUTE)).toBeNull()
  expect(floods.admit(limit, '192.0.2.1', 4 * MINUTE)).toBe(3)
  const later = 1000 * MINUTE
  for (let count = 0; count < 3; count++) expect(floods.admit(limit, '192.0.2.1', later)).toBeNull()
  expect(floods.admit(limit, '192.0.2.1', later)).not.toBeNull()
})

test('many addresses together are held to the limit for all', () => {
  const floods = openFloods()
  for (let count = 1; count <= 5; count++) expect(floods.admit(limit, `192.0.2.${count}`, 0)).toBeNull()
  expect(floods.admit(limit, '192.0.2.9', 0)).toBe(2)
})

test('limits of different names do not count each other, and the house itself is not counted', () => {
  const floods = openFloods()
  for (let count = 0; count < 3; count++) floods.admit(limit, '192.0.2.1', 0)
  expect(floods.admit({ ...limit, name: 'other' }, '192.0.2.1', 0)).toBeNull()
  for (let count = 0; count < 20; count++) expect(floods.admit(limit, '', 0)).toBeNull()
})

test.each([
  ['192.0.2.1', '192.0.2.1'],
  ['::ffff:192.0.2.1', '192.0.2.1'],
  ['2001:db8:1:2:3:4:5:6', '2001:db8:1:2'],
  ['2001:0db8:0001:0002:ffff::1', '2001:db8:1:2'],
  ['2001:db8::1', '2001:db8:0:0'],
  ['fe80::1%eth0', 'fe80:0:0:0'],
  ['::1', '0:0:0:0'],
])('%s is counted as %s', (address, place) => {
  expect(placeOf(address)).toBe(place)
})
