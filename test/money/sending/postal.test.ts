import { expect, test } from 'vitest'
import { COUNTRY_CODES } from '#kernel/countries'
import { countryForms, isTownFirst, needsPostcode, postalLines, regionOf } from '#money/sending/postal.rules'

const ADA = { name: 'Ada Byrne', street: '12 Mill Lane\nFlat 3', region: '' }

// The forms of the postal unions' S42 templates, as the countries' own posts print them.
test.each([
  ['GB', { place: 'Kettlewick', postcode: 'AB1 2CD' }, ['Ada Byrne', '12 Mill Lane', 'Flat 3', 'KETTLEWICK', 'AB1 2CD', 'United Kingdom']],
  [
    'US',
    { place: 'Kettlewick', postcode: '43215', region: 'OH' },
    ['Ada Byrne', '12 Mill Lane', 'Flat 3', 'KETTLEWICK, OH 43215', 'United States'],
  ],
  ['DE', { place: 'Kesselwick', postcode: '01234' }, ['Ada Byrne', '12 Mill Lane', 'Flat 3', '01234 Kesselwick', 'Germany']],
  ['FR', { place: 'Quelville', postcode: '01234' }, ['Ada Byrne', '12 Mill Lane', 'Flat 3', '01234 QUELVILLE', 'France']],
  [
    'JP',
    { place: 'Chuo-ku', postcode: '104-0061', region: 'Tokyo' },
    ['Ada Byrne', 'Flat 3 12 Mill Lane', 'Chuo-ku Tokyo 104-0061', 'Japan'],
  ],
])('an address in %s', (country, there, lines) => {
  expect(postalLines({ ...ADA, ...there, country })).toEqual(lines)
})

test('in its own script Japan is written from the prefecture down to the person', () => {
  const lines = postalLines({
    name: '佐藤花子',
    street: '銀座1-2-3',
    place: '中央区',
    postcode: '104-0061',
    region: '東京都',
    country: 'JP',
  })
  expect(lines).toEqual(['104-0061 東京都 中央区', '銀座1-2-3', '佐藤花子', 'Japan'])
})

test('nothing that was written is left out, in any country', () => {
  const parts = { ...ADA, place: 'Kettlewick', postcode: 'Q7 9ZX', region: 'Northmark' }
  for (const country of COUNTRY_CODES) {
    const whole = postalLines({ ...parts, country })
      .join('\n')
      .toLowerCase()
    const missing = ['ada byrne', '12 mill lane', 'flat 3', 'kettlewick', 'q7 9zx', 'northmark'].filter((part) => !whole.includes(part))
    expect([country, missing]).toEqual([country, []])
  }
})

test('a form asks for what the country has', () => {
  expect(regionOf('US')).toEqual({ label: 'State', isNeeded: true })
  expect(regionOf('CA')).toEqual({ label: 'Province', isNeeded: true })
  expect(regionOf('JP')).toEqual({ label: 'Prefecture', isNeeded: true })
  expect(regionOf('DE')).toBeNull()
  expect([needsPostcode('GB'), needsPostcode('US'), needsPostcode('IE'), needsPostcode('HK')]).toEqual([true, true, false, false])
  expect(countryForms(['GB', 'HK'])).toMatchObject({ GB: { needsPostcode: true } })
  expect([isTownFirst('GB'), isTownFirst('US'), isTownFirst('DE'), isTownFirst('FR')]).toEqual([true, true, false, false])
})
