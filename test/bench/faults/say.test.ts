import { expect, test } from 'vitest'
import { sayEvidence, sayFailed } from '#bench/faults/say.rules'

const one = (check: string, failed: boolean) => ({ check, failed })

test('of a check that was taken again and passes it is said that it failed at first, beside those that still fail', () => {
  expect(sayFailed(['C12'], [one('C12', true)])).toBe('C12 failed')
  expect(sayFailed(['C12'], [one('C12', false)])).toBe('C12 failed at first and passes now')
  expect(sayFailed(['C9', 'C12', 'C14'], [one('C9', true), one('C12', false), one('C14', false)])).toBe(
    'C9 failed, C12 and C14 failed at first and pass now',
  )
  // One that was never taken again since something was changed stands for nothing now.
  expect(sayFailed(['C12'], [])).toBe('C12 failed')
})

test('the evidence of one fault never says of a check that passes now only that it failed', () => {
  const posterior = { faults: 'one', suspicions: [{ blocks: ['supply'], weight: 1 }], shares: new Map([['supply', 1]]) } as const
  const [words] = sayEvidence(
    { ...posterior, suspicions: [...posterior.suspicions] },
    [one('C12', true), one('C12', false)],
    [one('C12', false)],
  )
  expect(words).toContain('One fault is assumed: C12 failed at first and passes now, and one block is left.')
})
