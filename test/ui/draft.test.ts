import { describe, expect, test } from 'vitest'
import { draftAtOpening, NOTHING_CHOSEN, OTHER, takenBack } from '#app/(public)/lots/[number]/draft.rules.ts'

describe('what somebody is about to bid', () => {
  test('a step is taken back once the price has passed it, and not before', () => {
    expect(takenBack({ choice: '16500', typed: '' }, 16_500).choice).toBe('16500')
    expect(takenBack({ choice: '16500', typed: '' }, 17_500).choice).toBeNull()
  })
  test('what was typed by hand stays', () => {
    expect(takenBack({ choice: OTHER, typed: '165' }, 17_500)).toEqual({ choice: OTHER, typed: '165' })
    expect(takenBack({ choice: '16500', typed: '400' }, 17_500)).toEqual({ choice: null, typed: '400' })
  })
  test('a form that comes back, as after a hold, opens with what stood there', () => {
    expect(draftAtOpening(NOTHING_CHOSEN, 17_500, '17500').choice).toBe('17500')
    expect(draftAtOpening({ choice: OTHER, typed: '240' }, 17_500, '17500')).toEqual({ choice: OTHER, typed: '240' })
    expect(draftAtOpening({ choice: '24000', typed: '' }, 17_500, '17500').choice).toBe('24000')
    expect(draftAtOpening({ choice: '16500', typed: '' }, 17_500, '17500').choice).toBe('17500')
  })
})
