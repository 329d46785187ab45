import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, test } from 'vitest'
import { announce, clockLeft, countdownWords, saidNow, sayLeft, untilNextSecond } from '#app/_ui/countdown.rules.ts'
import { Countdown } from '#app/_ui/countdown.tsx'
import { DAY, HOUR, MINUTE, SECOND } from '#kernel/instant'
import { USUAL_LATE_BID } from '#sale/price/late-bid.rules'

describe('time left in words', () => {
  test.each([
    [5 * MINUTE + 42 * SECOND, '5 min 42 s'],
    [MINUTE, '1 min 00 s'],
    [MINUTE - 1, '1 min 00 s'],
    [59 * SECOND, '59 s'],
    [HOUR, '1 h 00 min'],
    [HOUR - SECOND, '59 min 59 s'],
    [2 * HOUR + 5 * MINUTE + 9 * SECOND, '2 h 05 min'],
    [DAY, '1 day 0 h'],
    [3 * DAY + 4 * HOUR, '3 days 4 h'],
    [1, '1 s'],
    [0, '0 s'],
    [-500, '0 s'],
  ])('%i ms: %s', (left, words) => expect(sayLeft(left)).toBe(words))
  test('across the room as a clock', () => {
    expect(clockLeft(342_000)).toBe('5:42')
    expect(clockLeft(9_000)).toBe('0:09')
    expect(clockLeft(7_507_000)).toBe('2:05:07')
  })
})

describe('what is said aloud', () => {
  test('each mark once, as it is passed', () => {
    expect(announce(10 * MINUTE + 1, 10 * MINUTE)).toBe('Ten minutes left.')
    expect(announce(10 * MINUTE, 10 * MINUTE - SECOND)).toBeNull()
    expect(announce(5 * MINUTE + SECOND, 5 * MINUTE)).toBe('Five minutes left.')
    expect(announce(MINUTE + SECOND, MINUTE)).toBe('One minute left.')
    expect(announce(11 * SECOND, 10 * SECOND)).toBe('Ten seconds left.')
    expect(announce(SECOND, 0)).toBe('Time is up.')
    expect(announce(-SECOND, -2 * SECOND)).toBeNull()
  })
  test('a tab that slept through several says only the last', () => {
    expect(announce(11 * MINUTE, 30 * SECOND)).toBe('One minute left.')
    expect(announce(11 * MINUTE, -SECOND)).toBe('Time is up.')
  })
  test('time that was added says nothing, and the marks are said again as they come', () => {
    expect(announce(8 * SECOND, 120 * SECOND)).toBeNull()
    expect(announce(61 * SECOND, 60 * SECOND)).toBe('One minute left.')
  })
})

test('what was said stays until the next mark, but not beside a clock that stands or was given time', () => {
  const five = saidNow('', 5 * MINUTE + SECOND, 5 * MINUTE)
  expect(five).toBe('Five minutes left.')
  expect(saidNow(five, 5 * MINUTE, 5 * MINUTE - SECOND)).toBe(five)
  expect(saidNow(five, 5 * MINUTE, null)).toBe('')
  expect(saidNow(five, 4 * MINUTE, 15 * MINUTE)).toBe('')
})

describe('what stands there', () => {
  test('at the closing instant the time is up, but nobody says that the lot is closed', () => {
    expect(countdownWords('running', 1000, 999)).toBe('1 s')
    expect(countdownWords('running', 1000, 1000)).toBe('Time is up')
    expect(countdownWords('running', 1000, 90_000)).toBe('Time is up')
    expect(countdownWords('ended', 1000, 0)).toBe('Closed')
  })
  test('held shows what remained, unplanned says so', () => {
    expect(countdownWords('running', 342_000, 0, 0)).toBe('Held with 5 min 42 s left')
    // It stands, however long the hold lasts.
    expect(countdownWords('running', 342_000, 600_000, 0)).toBe('Held with 5 min 42 s left')
    expect(countdownWords('running', null, 0)).toBe('Not yet in the programme')
  })
})

test('the clock wakes just after the shown second changes, and never spins', () => {
  expect(untilNextSecond(5400)).toBe(401)
  expect(untilNextSecond(5000)).toBe(1001)
  expect(untilNextSecond(5001)).toBe(20)
  expect(untilNextSecond(-300)).toBe(701)
})

test('before any script it shows the time left by the server and the absolute time in the zone of the stream', () => {
  const now = Date.UTC(2027, 2, 13, 19, 34, 18)
  const markup = renderToStaticMarkup(<Countdown serverNow={now} closesAt={now + 342_000} zone="Europe/London" lateBid={USUAL_LATE_BID} />)
  expect(markup).toContain('role="timer"')
  expect(markup).toContain('aria-live="off"')
  expect(markup).toContain('5 min 42 s')
  expect(markup).toContain('dateTime="2027-03-13T19:40:00.000Z"')
  expect(markup).toContain('19:40<span class="quiet"> in London</span>')
  expect(markup).toMatch(/role="status" class="visually-hidden"><\/span>/)
})
