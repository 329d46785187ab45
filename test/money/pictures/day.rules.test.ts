import { describe, expect, it } from 'vitest'
import { giftPostings, hammerPostings, type Posting, paymentPostings } from '#money/journal/journal.rules'
import type { JournalEntry } from '#money/journal/lot-account.rules'
import { type DayOf, dayOf } from '#money/pictures/day.rules'

let seq = 0
const entry = (at: number, kind: JournalEntry['kind'], lotId: string | null, postings: Posting[]): JournalEntry => {
  seq += 1
  return { id: `e${seq}`, at, kind, lotId, correctsId: null, placesId: null, promiseId: null, postings }
}
const bid = (lotId: string, at: number, standingMinor: number) => ({ lotId, at, isEnd: false, standingMinor })
const end = (lotId: string, at: number) => ({ lotId, at, isEnd: true, standingMinor: null })
const day = (change: Partial<DayOf>): DayOf => ({
  fromAt: 0,
  toAt: 12_000,
  standings: [],
  lots: [
    { id: 'a', number: 1, reserveMinor: null, hammerMinor: 600 },
    { id: 'b', number: 2, reserveMinor: 500, hammerMinor: null },
  ],
  entries: [],
  promises: [],
  shareBp: 10_000,
  targetMinor: 5_000,
  ...change,
})
const at = (found: ReturnType<typeof dayOf>, instant: number) => found.points.findLast((point) => point.at <= instant)

describe('the line of the day', () => {
  it('rises with bids, moves them to won at the close, to paid with the payment', () => {
    const found = dayOf(
      day({
        standings: [bid('a', -500, 200), bid('a', 3_000, 600), end('a', 6_000)],
        entries: [entry(6_040, 'hammer', 'a', hammerPostings(600, 10_000)), entry(9_000, 'payment', 'a', paymentPostings(600))],
      }),
    )
    expect(at(found, 0)).toMatchObject({ bidMinor: 200, wonMinor: 0, paidMinor: 0 })
    expect(at(found, 5_999)).toMatchObject({ bidMinor: 600, wonMinor: 0 })
    expect(at(found, 8_999)).toMatchObject({ bidMinor: 0, wonMinor: 600, paidMinor: 0 })
    expect(at(found, 12_000)).toMatchObject({ bidMinor: 0, wonMinor: 0, paidMinor: 600 })
    expect(found.closes).toEqual([{ at: 6_000, lot: 1, hammerMinor: 600, bidMinor: 0, wonMinor: 600, paidMinor: 0 }])
  })

  it('a hammer that a late sweep wrote down leaves no gap after the close', () => {
    const found = dayOf(
      day({ standings: [bid('a', 10, 600), end('a', 6_000)], entries: [entry(6_900, 'hammer', 'a', hammerPostings(600, 10_000))] }),
    )
    for (const point of found.points.filter((each) => each.at > 100)) expect(point.bidMinor + point.wonMinor).toBe(600)
  })

  it('a bid under an unreached reserve is not on it until the reserve is reached', () => {
    const found = dayOf(day({ standings: [bid('b', 2_000, 400), bid('b', 4_000, 500)] }))
    expect(at(found, 3_999)).toMatchObject({ bidMinor: 0 })
    expect(at(found, 4_000)).toMatchObject({ bidMinor: 500 })
  })

  it('a promise of matched giving counts from the moment it was made until it ends', () => {
    const promise = { id: 'p', base: 'gifts' as const, ratioBp: 10_000, capMinor: 300, isEnded: false, at: 5_000, endedAt: 8_000 }
    const found = dayOf(day({ entries: [entry(1_000, 'gift', null, giftPostings(1_000))], promises: [promise] }))
    expect(at(found, 4_999)).toMatchObject({ wonMinor: 0, paidMinor: 1_000 })
    expect(at(found, 5_000)).toMatchObject({ wonMinor: 300 })
    expect(at(found, 12_000)).toMatchObject({ wonMinor: 0, paidMinor: 1_000 })
  })

  it('before the day begins there is nothing to draw', () => {
    expect(dayOf(day({ toAt: 0 }))).toEqual({ points: [], closes: [] })
  })
})
