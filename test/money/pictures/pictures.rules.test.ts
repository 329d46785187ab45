import { describe, expect, it } from 'vitest'
import { coverReceipts } from '#money/journal/covering.rules'
import { giftPostings, hammerPostings, type Posting, paymentPostings, reversalPostings, reversed } from '#money/journal/journal.rules'
import { accountOf, type JournalEntry, sumOf } from '#money/journal/lot-account.rules'
import { batchParts, hourParts, machineParts } from '#money/pictures/pictures.rules'

const HOUR = 3_600_000
let seq = 0
const entry = (
  at: number,
  kind: JournalEntry['kind'],
  lotId: string | null,
  postings: Posting[],
  correctsId: string | null = null,
): JournalEntry => {
  seq += 1
  return { id: `e${seq}`, at, kind, lotId, correctsId, placesId: null, promiseId: null, postings }
}
const machine = (lotId: string, lot: number, runId: string) => ({ lotId, lot, title: `Title ${lot}`, unit: `T-${lot}`, runId })
const machines = [machine('a', 1, 'r1'), machine('b', 2, 'r1'), machine('c', 3, 'r2')]

describe('where the money came from', () => {
  const gift = entry(9 * HOUR, 'gift', null, giftPostings(700))
  const journal = [
    entry(5 * HOUR + 10, 'hammer', 'a', hammerPostings(1_000, 9_000)),
    entry(5 * HOUR + 20, 'hammer', 'b', hammerPostings(500, 9_000)),
    entry(7 * HOUR, 'payment', 'a', paymentPostings(1_000)),
    entry(8 * HOUR, 'hammer', 'c', hammerPostings(2_000, 9_000)),
    gift,
  ]

  it('by machine: paid and won apart, the most first, gifts beside them, and the parts are the whole', () => {
    const { accounts, gifts, matched } = coverReceipts(journal)
    const parts = machineParts(accounts, machines, gifts, matched)
    expect(parts.map(({ words, paidMinor, wonMinor }) => [words, paidMinor, wonMinor])).toEqual([
      ['T-3, Title 3', 0, 1_800],
      ['T-1, Title 1', 900, 0],
      ['Gifts of money', 700, 0],
      ['T-2, Title 2', 0, 450],
    ])
    expect(parts.reduce((sum, part) => sum + part.paidMinor + part.wonMinor, 0)).toBe(0 - sumOf(journal, 'owed-to-cause'))
  })

  it('by hour of the campaign’s clock, half-hour zones too', () => {
    expect(hourParts(journal, () => 0).map(({ fromAt, lotsMinor, giftMinor }) => [fromAt / HOUR, lotsMinor, giftMinor])).toEqual([
      [5, 1_350, 0],
      [8, 1_800, 0],
      [9, 0, 700],
    ])
    expect(hourParts(journal, () => HOUR / 2).map(({ fromAt }) => fromAt / HOUR)).toEqual([4.5, 7.5, 8.5])
  })

  it('a sale that fell through and a gift taken back leave the hour in which they came', () => {
    const later = [
      ...journal,
      entry(30 * HOUR, 'reversal', 'c', reversalPostings({ ...accountOf('c', journal) })),
      entry(31 * HOUR, 'gift', null, reversed(gift.postings), gift.id),
    ]
    expect(hourParts(later, () => 0).map(({ fromAt, lotsMinor }) => [fromAt / HOUR, lotsMinor])).toEqual([[5, 1_350]])
  })

  it('a cost for a lot is one of its batch, one for nothing is shared', () => {
    const { accounts } = coverReceipts(journal)
    const runs = ['r1', 'r2', 'r3'].map((id) => ({ id, tagPrefix: id.toUpperCase(), design: 'Design' }))
    const cost = (runId: string | null, lotId: string | null, amountMinor: number) => ({ runId, lotId, amountMinor })
    const found = batchParts(runs, machines, accounts, [
      cost('r1', null, 100),
      cost(null, 'b', 30),
      cost(null, null, 7),
      cost(null, 'c', 0),
    ])
    expect(found.sharedCostMinor).toBe(7)
    expect(
      found.batches.map(({ run, sold, raisedMinor, forCauseMinor, costMinor }) => [run, sold, raisedMinor, forCauseMinor, costMinor]),
    ).toEqual([
      ['R1', 2, 1_500, 1_350, 130],
      ['R2', 1, 2_000, 1_800, 0],
    ])
  })
})
