import { expect, test } from 'vitest'
import { beginNextIn } from '#end/next-campaign/next-campaign.contract'
import { slugOf } from '#end/next-campaign/slug.rules'

test.each([
  ['Receivers for Harbour House', 'receivers-for-harbour-house-2027'],
  ['  Ünruhe & Söhne — zwei!  ', 'unruhe-sohne-zwei-2027'],
  ['Long Bench Day 2027', 'long-bench-day-2027'],
  ['灯', 'campaign-2027'],
  ['x'.repeat(120), `${'x'.repeat(50)}-2027`],
])('%s is called %s in addresses', (name, slug) => {
  expect(slugOf(name, 2027)).toBe(slug)
  expect(beginNextIn.shape.slug.parse(slug)).toBe(slug)
})
