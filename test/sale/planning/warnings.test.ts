import { expect, test } from 'vitest'
import { HOUR } from '#kernel/instant'
import { zonesOfCountry } from '#sale/planning/country-zones.rules'
import { type WarningQuestion, warningsOf } from '#sale/planning/warnings.rules'

// A day in March between the two changes: New York has gone forward, London has not.
const OPENS = Date.parse('2027-03-20T13:00:00Z')

const DAY: WarningQuestion = {
  now: Date.parse('2027-03-01T12:00:00Z'),
  opensAt: OPENS,
  closesAt: OPENS + 10 * HOUR,
  home: 'Europe/London',
  zones: ['Europe/London'],
  closings: [],
}

test('a place that will be nearer by the clock than today is named, with the hour there', () => {
  expect(warningsOf({ ...DAY, zones: ['Europe/London', 'America/New_York'] })).toEqual([
    'New York is 5 hours behind London today and 4 hours behind it on the day: 13:00 is 09:00 there.',
  ])
})

test('a zone that shifts by half an hour is told so', () => {
  const night = {
    now: Date.parse('2027-04-03T12:00:00Z'),
    opensAt: Date.parse('2027-04-03T18:00:00Z'),
    closesAt: Date.parse('2027-04-04T04:00:00Z'),
  }
  expect(warningsOf({ ...DAY, ...night, home: 'Australia/Lord_Howe', zones: [] })).toEqual([
    'In Lord Howe the clocks go back 30 minutes within a day before the stream, on Sunday 4 April.',
  ])
})

test('clocks that change the night after the stream are told, those of another week are not', () => {
  const eve = { ...DAY, now: OPENS, opensAt: Date.parse('2027-03-27T13:00:00Z'), closesAt: Date.parse('2027-03-27T23:00:00Z') }
  expect(warningsOf(eve)).toEqual(['In London the clocks go forward 60 minutes within a day after the stream, on Sunday 28 March.'])
  expect(warningsOf(DAY)).toEqual([])
})

test('lots that close on another date abroad are named with their hour there', () => {
  const closings = [4, 5].map((lot, index) => ({ lot, at: OPENS + (5 + index) * HOUR, followers: [] }))
  expect(warningsOf({ ...DAY, zones: ['Asia/Tokyo'], closings })).toEqual([
    'In Tokyo lots 4 and 5 close on another day than in London: from 03:00 on Sunday 21 March.',
  ])
})

const followed = (followers: (string | null)[], at = OPENS + 6 * HOUR) => warningsOf({ ...DAY, closings: [{ lot: 4, at, followers }] })

test('a lot that closes while most of its own followers sleep is named, by share and never by person', () => {
  expect(followed(['JP', 'JP', 'GB'])).toEqual(['Lot 4 closes at night for 67 % of those who follow it, by the countries they named.'])
  expect(followed(['JP', 'GB', 'GB'])).toEqual([])
})

test('of fewer than three followers nothing is said, since it would tell where one lives', () => {
  expect(followed(['JP', 'JP'])).toEqual([])
  expect(followed(['JP', 'JP', null])).toEqual([])
})

test('a country of many hours counts for the part of them at which it is night', () => {
  expect(zonesOfCountry('US').length).toBeGreaterThan(5)
  expect(zonesOfCountry('JP')).toEqual(['Asia/Tokyo'])
  expect(zonesOfCountry('X!')).toEqual([])
  // At 08:00 in London it is between ten in the evening and four at night in the States.
  expect(followed(['US', 'US', 'US'], Date.parse('2027-03-20T08:00:00Z'))).toHaveLength(1)
  expect(followed(['US', 'US', 'US'])).toEqual([])
})
