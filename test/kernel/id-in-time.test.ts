import { expect, test } from 'vitest'
import { idInTime } from '#kernel/id-in-time'

test('the example of RFC 9562, appendix A.6: 2022-02-22, 14:22:22 at GMT-5 (its words from memory)', () => {
  const at = Date.parse('2022-02-22T14:22:22.000-05:00')
  expect(idInTime(at, '00000000-0000-4cc3-98c4-dc0c0c07398f')).toBe('017f22e2-79b0-7cc3-98c4-dc0c0c07398f')
})

test('what is made later stands after it, whatever its random part', () => {
  const high = 'ffffffff-ffff-4fff-bfff-ffffffffffff'
  const low = '00000000-0000-4000-8000-000000000000'
  const instants = [0, 1, 65_535, 65_536, 1_700_000_000_000, 1_700_000_000_001, 4_102_444_800_000]
  for (const [index, at] of instants.entries()) {
    expect(idInTime(at, high)).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/)
    for (const later of instants.slice(index + 1)) expect(idInTime(at, high) < idInTime(later, low)).toBe(true)
  }
})
