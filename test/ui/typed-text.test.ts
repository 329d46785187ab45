import { expect, test } from 'vitest'
import { isKept, placeOf, readKept, typedIn } from '#app/_ui/forms/typed-text.rules.ts'

test('only what differs from what the page came with is kept', () => {
  expect(
    typedIn([
      { name: 'quantity', value: '20', defaultValue: '20' },
      { name: 'reason', value: 'counted again', defaultValue: '' },
    ]),
  ).toEqual({ reason: 'counted again' })
})

test('an answer to a question of the house is given anew, and what has no name is nowhere', () => {
  expect(['fault', 'confirmUndo', ''].filter(isKept)).toEqual(['fault'])
})

test('two forms of a page, and one form on two pages, keep apart', () => {
  expect(
    new Set([placeOf('/bench/parts/1', 'Recount'), placeOf('/bench/parts/2', 'Recount'), placeOf('/bench/parts/1', 'Bad ones')]).size,
  ).toBe(3)
})

test.each([null, '', '{', '[]', '3', 'null'])('what is kept as %j is nothing', (kept) => {
  expect(readKept(kept)).toEqual({})
})

test('of what is kept only text comes back', () => {
  expect(readKept('{"reason":"torn bag","count":3}')).toEqual({ reason: 'torn bag' })
})
