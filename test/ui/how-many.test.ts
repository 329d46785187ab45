import { describe, expect, test } from 'vitest'
import { sayKept } from '#app/(public)/me/my-receipts.tsx'
import { sayWish } from '#app/(public)/me/told/wish-switch.tsx'
import { countryIn } from '#app/(public)/paddle/own-country.ts'

describe('what a bidder reads of their own', () => {
  test('one receipt is one', () => {
    expect(sayKept(1)).toMatch(/^1 receipt is kept .* continues it\.$/)
    expect(sayKept(2)).toMatch(/^2 receipts are kept .* continue all of them\.$/)
  })
  test('messages are on only where a device gets them', () => {
    expect(sayWish(true, true)).toBe('Messages on')
    expect(sayWish(true, false)).toContain('no device of yours gets messages yet')
    expect(sayWish(false, false)).toBe('Messages off')
  })
  test('a country is proposed only where the browser names one', () => {
    expect(countryIn(['en', 'en-GB', 'de-AT'])).toBe('GB')
    expect(countryIn(['zh-Hant-TW'])).toBe('TW')
    expect(countryIn(['en', 'es-419'])).toBeNull()
  })
})
