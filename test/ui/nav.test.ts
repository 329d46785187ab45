import { expect, test } from 'vitest'
import { atTheThumb, benchGroups, benchPlaces, isHere } from '#app/_ui/shell/nav.rules.ts'

test('the maker is shown every place, the volunteer what a parcel needs, a bidder none', () => {
  expect(benchPlaces('maker').map(({ label }) => label)).toEqual([
    'Rack',
    'Parcels',
    'Donors',
    'Parts',
    'Designs',
    'Lots',
    'Programme',
    'Money',
    'Sending',
    'Close out',
    'Outbox',
    'House',
    'People',
    'Changes',
    'Campaign',
  ])
  expect(benchPlaces('volunteer').map(({ label }) => label)).toEqual(['Rack', 'Parcels', 'Donors', 'Parts', 'Sending'])
  expect(benchPlaces('bidder')).toEqual([])
})

test('five places fit at the thumb; the sixth makes the fifth go behind "More"', () => {
  const places = benchPlaces('maker')
  expect(atTheThumb(places.slice(0, 5)).more).toEqual([])
  expect(atTheThumb(places.slice(0, 6))).toMatchObject({ first: { length: 4 }, more: { length: 2 } })
})

test('a place is where one stands also below it, but the roots are not above everything', () => {
  expect(isHere('/', '/')).toBe(true)
  expect(isHere('/programme', '/')).toBe(false)
  expect(isHere('/lots/7', '/')).toBe(true)
  expect(isHere('/bench/parcels/new', '/bench/parcels')).toBe(true)
  expect(isHere('/bench/parcels', '/bench')).toBe(false)
  expect(isHere('/bench/units/TERN-03', '/bench')).toBe(true)
  expect(isHere('/bench/partsbin', '/bench/parts')).toBe(false)
})

test('at a desk the places stand part by part of the work, each once, and a part of which nothing is theirs is left out', () => {
  const groups = benchGroups('maker')
  expect(groups.map(({ work }) => work)).toEqual(['gifts', 'bench', 'sale', 'money', 'end', 'house'])
  expect(groups.flatMap(({ places }) => places.map(({ href }) => href)).sort()).toEqual(
    benchPlaces('maker')
      .map(({ href }) => href)
      .sort(),
  )
  expect(benchGroups('volunteer').map(({ work }) => work)).toEqual(['gifts', 'bench', 'money'])
  expect(benchGroups('bidder')).toEqual([])
})
