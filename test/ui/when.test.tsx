import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, test } from 'vitest'
import { sameWall, sayWhen } from '#app/_ui/when.rules.ts'
import { When } from '#app/_ui/when.tsx'
import { civilIn, zonePlace } from '#kernel/wall-clock'

const AT = Date.UTC(2027, 2, 13, 19, 40)

describe('an instant in a zone', () => {
  test('the same instant is the next morning in Auckland', () => {
    expect(sayWhen(AT, 'Europe/London', 'both')).toBe('Saturday 13 March, 19:40')
    expect(sayWhen(AT, 'Pacific/Auckland', 'both')).toBe('Sunday 14 March, 08:40')
    expect(sayWhen(AT, 'America/New_York', 'time')).toBe('14:40')
    expect(sayWhen(AT, 'UTC', 'day')).toBe('Saturday 13 March 2027')
  })
  test('midnight is 00:00 and belongs to the day that begins', () => {
    expect(sayWhen(Date.UTC(2027, 2, 14), 'UTC', 'both')).toBe('Sunday 14 March, 00:00')
  })
  test('the two one o’clocks of an October night in London are an hour apart and look alike', () => {
    const first = Date.UTC(2027, 9, 31, 0, 30)
    expect(civilIn(first, 'Europe/London')).toMatchObject({ hour: 1, minute: 30 })
    expect(civilIn(first + 3_600_000, 'Europe/London')).toMatchObject({ hour: 1, minute: 30 })
  })
  test('zones whose clocks agree at that instant need one time only', () => {
    expect(sameWall(AT, 'Europe/London', 'UTC')).toBe(true)
    expect(sameWall(Date.UTC(2027, 6, 1), 'Europe/London', 'UTC')).toBe(false)
  })
  test('a zone is called by its place', () => expect(zonePlace('America/Argentina/Buenos_Aires')).toBe('Buenos Aires'))
})

test('without script the page shows the zone of the stream and names it', () => {
  const markup = renderToStaticMarkup(<When at={AT} zone="America/New_York" />)
  expect(markup).toContain('dateTime="2027-03-13T19:40:00.000Z"')
  expect(markup).toContain('Saturday 13 March, 14:40<span class="quiet"> in New York</span>')
})
