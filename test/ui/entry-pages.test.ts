import { expect, test } from 'vitest'
import { entryPage } from '#app/(public)/lots/[number]/history/entry-pages.rules.ts'

const history = (size: number) => Array.from({ length: size }, (_, index) => `entry ${index + 1}`)
const places = (size: number, asked?: unknown) => entryPage(history(size), asked).entries.map(({ place }) => place)

test('a short history stands on one page, the newest entry first', () => {
  expect(places(3)).toEqual([3, 2, 1])
  expect(entryPage(history(3), undefined)).toMatchObject({ page: 1, pages: 1 })
  expect(places(0)).toEqual([])
})

test('a hundred entries are one page, one more begins the next', () => {
  expect(entryPage(history(100), '1')).toMatchObject({ page: 1, pages: 1 })
  expect(entryPage(history(101), '1')).toMatchObject({ page: 1, pages: 2 })
  expect(places(101)).toEqual(Array.from({ length: 100 }, (_, index) => 101 - index))
  expect(places(101, '2')).toEqual([1])
})

test('every entry stands on one page and on no other, under its own place', () => {
  const all = ['1', '2', '3', '4', '5', '6', '7'].flatMap((page) => entryPage(history(640), page).entries)
  expect(all.map(({ place }) => place)).toEqual(Array.from({ length: 640 }, (_, index) => 640 - index))
  expect(all.every(({ entry, place }) => entry === `entry ${place}`)).toBe(true)
})

test.each(['0', '8', '-1', '1.5', '1e2', ' 2', '２', 'last', '99999999', '', ['2', '3'], undefined, null, 2])(
  'page %j is none of seven, so the newest entries are shown',
  (asked) => {
    expect(entryPage(history(640), asked)).toMatchObject({ page: 1, pages: 7 })
  },
)
