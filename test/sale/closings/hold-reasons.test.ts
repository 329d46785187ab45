import { expect, test } from 'vitest'
import { HOLD_REASONS, holdAllIn } from '#sale/closings/closings.contract'

test('the reason of a hold that is there before anybody types names no cause, and each can be given', () => {
  for (const reason of HOLD_REASONS) expect(holdAllIn.parse({ reason })).toEqual({ reason })
  expect(HOLD_REASONS[0]).toBe('The host has stopped the clocks.')
})
