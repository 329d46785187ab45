import { expect, it } from 'vitest'
import { differing, differingSums } from '#end/packs/totals.service'

const then = { 'proceeds paidMinor': 1_200, 'account of lot 1': 'a digest', 'journal head': 'ab12' }

it('a pack of this program shows every view as it was', () => {
  expect(differing(then, then)).toEqual([])
  expect(differing(then, { ...then, 'account of lot 1': 'another' })).toEqual(['account of lot 1'])
  expect(differing(then, { ...then, 'proceeds more': 1 })).toEqual(['proceeds more'])
})

it('a pack of an earlier program is held to its sums, and not to views that say more since', () => {
  const now = { ...then, 'account of lot 1': 'it says more now', 'proceeds matchedReceivedMinor': 0 }
  expect(differingSums(then, now)).toEqual([])
  expect(differingSums(then, { ...now, 'proceeds paidMinor': 1_201 })).toEqual(['proceeds paidMinor'])
})
