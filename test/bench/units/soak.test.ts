import { describe, expect, it } from 'vitest'
import { soakClock } from '#bench/units/soak.rules'

const HOUR = 3_600_000
const wanted = { soakHours: 12, coldStarts: 6 }
const clock = (hours: number, starts: number) =>
  soakClock({ check: 'S1', startedAt: 0, coldStarts: Array.from({ length: starts }, (_, at) => at), notes: [] }, wanted, hours * HOUR)

describe('a soak that runs', () => {
  it('counts its hours in tenths, never rounded up', () => {
    expect(clock(3.49, 2)).toMatchObject({ hours: 3.4, starts: 2, words: '3.4 of 12 h, 2 of 6 cold starts', hoursFullAt: 12 * HOUR })
    expect(clock(11.999, 6)).toMatchObject({ hours: 11.9, isOver: false })
  })

  it('is over with its last hour and its last cold start, and not with one of the two', () => {
    expect(clock(12, 6)).toMatchObject({ hours: 12, isOver: true, hoursFullAt: null })
    expect(clock(12, 5).isOver).toBe(false)
    expect(clock(30, 6).hours).toBe(30)
  })
})
