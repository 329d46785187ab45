import { TRPCError } from '@trpc/server'
import { expect, test } from 'vitest'
import { ZodError, z } from 'zod'
import { refusalIn } from '#app/_trpc/refusal.rules.ts'
import { Refusal } from '#kernel/refusal'

/** As the house's own bundle has it: the same name and fields, another class than the one that a page has. */
class BuiltApart extends Error {
  override readonly name = 'Refusal'
  constructor(
    readonly code: string,
    words: string,
  ) {
    super(words)
  }
}

const told = (cause: unknown) => new TRPCError({ code: 'BAD_REQUEST', cause })

test('a page knows a refusal of the house, which is built apart, by its name', () => {
  expect(refusalIn(told(new BuiltApart('not-found', 'There is no such donor.')))).toEqual({
    code: 'not-found',
    words: 'There is no such donor.',
  })
  expect(refusalIn(told(new Refusal('not-found', 'There is no such donor.')))).toMatchObject({ code: 'not-found' })
})

test('any other refusal is told as what it is, not as "not found"', () => {
  expect(refusalIn(told(new BuiltApart('too-many', 'Wait a minute.')))).toEqual({ code: 'too-many', words: 'Wait a minute.' })
})

test('an address that cannot be a name leads nowhere', () => {
  const read = z.strictObject({ tag: z.string().max(3) }).safeParse({ tag: 'much too long' })
  expect(read.error).toBeInstanceOf(ZodError)
  expect(refusalIn(told(read.error))).toMatchObject({ code: 'not-found' })
})

test.each([new Error('the disk is full'), told(new TypeError('not a function')), 'a text', undefined])(
  'what broke is no refusal',
  (reason) => {
    expect(refusalIn(reason)).toBeNull()
  },
)
