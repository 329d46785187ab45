import { expect, test } from 'vitest'
import { DAY, HOUR } from '#kernel/instant'
import { endOfSession, sayEndOfSession } from '#people/sign-in/session-life.rules'

test('a session is said to end when it does', () => {
  const used = { createdAt: 0, usedAt: 3 * DAY }
  expect(endOfSession('bidder', used)).toBe(33 * DAY)
  expect(sayEndOfSession('bidder')).toBe('A session ends after 30 days without use, or when you end it.')
  expect(endOfSession('maker', used)).toBe(3 * DAY + 12 * HOUR)
  expect(sayEndOfSession('maker')).toMatch(/ends after 12 hours without use, and after 7 days in any case\.$/)
})
