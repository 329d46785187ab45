import { TRPCError } from '@trpc/server'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { ROLES } from '#kernel/role'
import { makeCampaign } from '#test/make/campaign'
import { openStage, type Stage } from '#test/stage'
import { call, everyProcedure } from './walk'

let stage: Stage
beforeAll(async () => {
  stage = openStage({ now: Date.now() })
  await makeCampaign(stage)
})
afterAll(() => stage.close())

const LONG = 'x'.repeat(100_000)
const WORDS = [
  '',
  ' ',
  LONG,
  '−1',
  '-1',
  '1e308',
  '１２３',
  '\u0000',
  "'; DROP TABLE lot; --",
  '<script>alert(1)</script>',
  '../../etc',
  '\ud800',
  '‮',
  'NaN',
]
const BARE = [undefined, null, 0, -1, 1e308, Number.NaN, true, 'text', [], {}, [[[]]], { __proto__: { role: 'maker' } }]
const NUMBERS = [-1, 0, 0.5, 1e308, Number.MAX_SAFE_INTEGER]

/** Garbage as a whole, and garbage in every field that the procedure knows. */
const corpus = (fields: string[]): unknown[] => [
  ...BARE,
  ...[...WORDS, ...NUMBERS, null, true, [], ['x'], [{}], {}].map((value) => Object.fromEntries(fields.map((field) => [field, value]))),
]

test.each(everyProcedure())('$path refuses garbage in words and never fails', async ({ path, fields }) => {
  for (const role of ROLES) {
    const caller = await stage.as(role)
    for (const input of corpus(fields)) {
      try {
        await call(caller, path, input)
      } catch (reason) {
        expect(reason).toBeInstanceOf(TRPCError)
        const { code, message } = reason as TRPCError
        expect(`${path} as ${role}: ${code} ${code === 'INTERNAL_SERVER_ERROR' ? message : ''}`).not.toContain('INTERNAL_SERVER_ERROR')
      }
    }
  }
})
