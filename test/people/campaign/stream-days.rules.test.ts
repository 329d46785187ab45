import fc from 'fast-check'
import { describe, expect, it, test } from 'vitest'
import { HOUR, MINUTE } from '#kernel/instant'
import { dayAt, dayAtHand, inOrderOfTime, type Span, type StreamDay, sayStreamDay } from '#people/campaign/stream-days.rules'

const FROM = Date.parse('2027-03-13T13:00:00Z')

/** One day at least, each after the one before, in any order. */
const someDays = fc
  .array(fc.record({ gap: fc.integer({ min: 0, max: 60 * 24 }), length: fc.integer({ min: 1, max: 72 }) }), { minLength: 1, maxLength: 6 })
  .chain((parts) => {
    let at = FROM
    const spans: Span[] = parts.map(({ gap, length }) => {
      const opensAt = at + gap * HOUR
      at = opensAt + length * HOUR
      return { opensAt, closesAt: at }
    })
    return fc.shuffledSubarray(spans, { minLength: spans.length })
  })
const instant = fc.integer({ min: -100 * 60, max: 12_000 * 60 }).map((minutes) => FROM + minutes * MINUTE)

const listed = (spans: readonly Span[]) => inOrderOfTime(spans) as [StreamDay, ...StreamDay[]]

describe('of all days of a campaign', () => {
  it('every instant belongs to one, and an instant of the stream to the day that it lies in', () => {
    fc.assert(
      fc.property(someDays, instant, (spans, at) => {
        const days = listed(spans)
        expect(days.map(({ number }) => number)).toEqual(spans.map((_, index) => index + 1))
        const own = dayAt(days, at)
        expect(days.filter((day) => dayAt(days, at).number === day.number)).toEqual([own])
        const within = days.find(({ opensAt, closesAt }) => opensAt <= at && at < closesAt)
        if (within) expect(own).toEqual(within)
        // An hour past its end, a closing that late bids moved is still of the day that it was of, while no other has begun.
        for (const { number, closesAt } of days) {
          const late = closesAt + HOUR
          if (!days.some(({ opensAt }) => opensAt > closesAt - 1 && opensAt <= late)) expect(dayAt(days, late).number).toBe(number)
        }
      }),
    )
  })

  it('none takes a closing from another that was there before it, when it is added', () => {
    fc.assert(
      fc.property(someDays, instant, (spans, at) => {
        const days = listed(spans)
        const last = days.at(-1) as StreamDay
        const more = listed([...spans, { opensAt: last.closesAt + HOUR, closesAt: last.closesAt + 5 * HOUR }])
        if (at <= last.closesAt) expect(dayAt(more, at)).toEqual(dayAt(days, at))
      }),
    )
  })

  it('the one at hand never goes back, and is the one that is on while one is', () => {
    fc.assert(
      fc.property(someDays, instant, instant, (spans, one, other) => {
        const days = listed(spans)
        const [sooner, later] = [Math.min(one, other), Math.max(one, other)]
        expect(dayAtHand(days, sooner).number).toBeLessThanOrEqual(dayAtHand(days, later).number)
        const on = days.find(({ opensAt, closesAt }) => opensAt <= one && one < closesAt)
        if (on) expect(dayAtHand(days, one)).toEqual(on)
      }),
    )
  })
})

test('a day is said with its hours, and with the day of its end where that is another', () => {
  const zone = 'Europe/London'
  expect(sayStreamDay({ opensAt: FROM, closesAt: FROM + 8 * HOUR }, zone)).toBe('Saturday 13 March, 13:00 to 21:00')
  expect(sayStreamDay({ opensAt: FROM, closesAt: FROM + 12 * HOUR }, zone)).toBe('Saturday 13 March, 13:00 to Sunday 14 March, 01:00')
})
