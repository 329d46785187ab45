import { expect, test } from 'vitest'
import { z } from 'zod'
import { countIn } from '#kernel/count'
import { text } from '#kernel/text'
import { issueWords } from '#runtime/call/issue-words'

const form = z.strictObject({
  name: text(10, 'Keep the name short.'),
  quantity: countIn(100, 'how many').optional(),
  rows: z
    .array(z.strictObject({ amount: text(5, 'That is too long.') }))
    .max(50)
    .optional(),
  cells: z.record(text(20, 'That is no column.'), text(20)).optional(),
})
const said = (input: unknown) => {
  const read = form.safeParse(input)
  return read.success ? {} : issueWords(read.error)
}

test('each field has its sentence, by the name that the form knows', () => {
  expect(said({ name: 'much too long a name', rows: [{ amount: '1' }, { amount: '1234567' }] })).toEqual({
    name: 'Keep the name short.',
    'rows.1.amount': 'That is too long.',
  })
})

test('what the validator says among its own kind is told in plain words', () => {
  expect(said({ name: 7 })).toEqual({ name: 'This is missing, or of the wrong kind.' })
  expect(said(null)).toEqual({ form: 'This is missing, or of the wrong kind.' })
})

test('of what may be a number or a text, what a person can mend is said', () => {
  expect(said({ name: 'a', quantity: '9'.repeat(500) })).toEqual({ quantity: 'Write how many as a whole number from 1, such as 20.' })
})

test('a field that the form does not have is named nowhere, and neither is a column that was made up', () => {
  const secret = 'hunter2-'.repeat(100)
  const words = said({ name: 'a', [secret]: 1, __proto__x: 1, cells: { [secret]: 'x', '<script>': 'y'.repeat(500) } })
  expect(JSON.stringify(words)).not.toMatch(/hunter2|script|__proto__/)
  expect(words.form).toContain('does not ask for')
})

test('of thousands of wrong fields some are told', () => {
  expect(Object.keys(said({ name: 'a', rows: Array.from({ length: 50 }, () => ({ amount: '1234567' })) })).length).toBeLessThanOrEqual(40)
})
