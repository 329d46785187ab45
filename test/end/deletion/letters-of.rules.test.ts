import { expect, test } from 'vitest'
import { lettersOf } from '#end/deletion/letters-of.rules'

test.each([
  ['Wilma’s Bench', "Wilma's Bench"],
  ['“Long Bench” Day', '"Long Bench" Day'],
  ['Long–Bench Day', 'Long-Bench Day'],
  ['Long\u00a0Bench  Day', ' Long Bench Day '],
  ['Cafe\u0301 Day', 'Café Day'],
])('%j and %j are one name', (shown, typed) => expect(lettersOf(typed)).toBe(lettersOf(shown)))

test.each([
  ['Long Bench Day', 'long bench day'],
  ['Long Bench Day', 'Long Bench'],
  ['Wilma’s Bench', 'Wilmas Bench'],
])('%j and %j are two', (shown, typed) => expect(lettersOf(typed)).not.toBe(lettersOf(shown)))
