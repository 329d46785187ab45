import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { lotAccounts } from '#money/journal/covering.rules'
import {
  balanced,
  giftPostings,
  hammerPostings,
  type Posting,
  paymentPostings,
  postagePostings,
  remittancePostings,
  reversed,
} from '#money/journal/journal.rules'
import { type JournalEntry, lotMoneyState, sumOf } from '#money/journal/lot-account.rules'
import { countProceeds } from '#money/proceeds/proceeds.rules'

let seq = 0
const entry = (kind: JournalEntry['kind'], lotId: string | null, postings: Posting[]): JournalEntry => {
  seq += 1
  return { id: `e${seq}`, at: seq, kind, lotId, correctsId: null, placesId: null, promiseId: null, postings }
}
const hammer = (lotId: string, minor: number, bp = 9000) => entry('hammer', lotId, hammerPostings(minor, bp))
const postage = (lotId: string, minor: number) => entry('postage', lotId, postagePostings(minor))
const payment = (lotId: string, minor: number) => entry('payment', lotId, paymentPostings(minor))
const gift = (minor: number) => entry('gift', null, giftPostings(minor))
const remittance = (minor: number) => entry('remittance', null, remittancePostings(minor))
const count = (entries: JournalEntry[], lots: Parameters<typeof countProceeds>[0]['lots'] = []) =>
  countProceeds({ lots, entries, promises: [], shareBp: 9000, targetMinor: 300_000 })
const only = (entries: JournalEntry[]) => {
  const [account] = lotAccounts(entries)
  if (!account) throw new Error('no account')
  return account
}

describe('what counts towards the target', () => {
  it('a bid counts by the share of the cause, under an unreached reserve not at all', () => {
    const lot = (standingMinor: number | null, reserve: 'none' | 'unreached' | 'reached', isOpen = true) => ({
      isOpen,
      standingMinor,
      reserve,
    })
    expect(count([], [lot(16_500, 'none')]).bidMinor).toBe(14_850)
    expect(count([], [lot(16_500, 'reached')]).bidMinor).toBe(14_850)
    expect(count([], [lot(16_500, 'unreached')]).bidMinor).toBe(0)
    expect(count([], [lot(null, 'none')]).bidMinor).toBe(0)
    expect(count([], [lot(16_500, 'none', false)]).bidMinor).toBe(0)
  })

  it('a hammer price is won until it is paid, and postage never counts', () => {
    const sold = [hammer('a', 21_000), postage('a', 1_850)]
    expect(count(sold)).toMatchObject({ wonMinor: 18_900, paidMinor: 0, countedMinor: 18_900 })
    expect(count([...sold, payment('a', 22_850)])).toMatchObject({ wonMinor: 0, paidMinor: 18_900, countedMinor: 18_900 })
  })

  it('a part payment covers postage first, a penny more begins to cover the hammer', () => {
    const sold = [hammer('a', 21_000, 10_000), postage('a', 1_850)]
    expect(only([...sold, payment('a', 1_850)])).toMatchObject({ paidMinor: 0, wonMinor: 21_000, owedMinor: 21_000 })
    expect(only([...sold, payment('a', 1_851)])).toMatchObject({ paidMinor: 1, wonMinor: 20_999, owedMinor: 20_999 })
  })

  it('money that was sent on is remitted and no longer paid, lots first in the order of payment', () => {
    const journal = [hammer('a', 10_000), hammer('b', 20_000), payment('b', 20_000), gift(500), payment('a', 10_000), remittance(18_400)]
    const accounts = lotAccounts(journal)
    expect(accounts.find(({ lotId }) => lotId === 'b')).toMatchObject({ remittedMinor: 18_000, paidMinor: 0 })
    expect(accounts.find(({ lotId }) => lotId === 'a')).toMatchObject({ remittedMinor: 0, paidMinor: 9_000 })
    expect(count(journal)).toMatchObject({ wonMinor: 0, paidMinor: 9_100, remittedMinor: 18_400, giftMinor: 500, countedMinor: 27_500 })
  })

  it('the states have their names', () => {
    const sold = [hammer('a', 10_000)]
    expect(lotMoneyState(only(sold))).toBe('won')
    expect(lotMoneyState(only([...sold, payment('a', 1)]))).toBe('part paid')
    expect(lotMoneyState(only([...sold, payment('a', 10_000)]))).toBe('paid')
    expect(lotMoneyState(only([...sold, payment('a', 10_000), remittance(8_999)]))).toBe('paid')
    expect(lotMoneyState(only([...sold, payment('a', 10_000), remittance(9_000)]))).toBe('remitted')
  })

  it('a correction takes an entry back as if it had never been', () => {
    const sold = [hammer('a', 10_000), payment('a', 4_000)]
    const [, wrong] = sold
    if (!wrong) throw new Error('no entry')
    const corrected = [...sold, entry('payment', 'a', reversed(wrong.postings))]
    expect(count(corrected)).toEqual(count([hammer('a', 10_000)]))
  })

  it('the way to the target never falls below nought', () => {
    expect(count([hammer('a', 1_000_000)])).toMatchObject({ toGoMinor: 0, countedMinor: 900_000 })
  })
})

describe('laws of the journal', () => {
  const amount = fc.integer({ min: 1, max: 1_000_000_000 })
  const bp = fc.integer({ min: 0, max: 10_000 })

  it('every entry balances, whatever the amount and the share', () => {
    fc.assert(
      fc.property(amount, bp, (minor, share) => {
        for (const lines of [hammerPostings(minor, share), postagePostings(-minor), paymentPostings(minor), giftPostings(minor)]) {
          expect(lines.reduce((sum, line) => sum + line.amountMinor, 0)).toBe(0)
          expect(reversed(lines).reduce((sum, line) => sum + line.amountMinor, 0)).toBe(0)
        }
      }),
    )
  })

  it('an entry that does not balance stops', () => {
    expect(() => balanced([{ account: 'bank', amountMinor: 1 }])).toThrow('entries balance')
    expect(() =>
      balanced([
        { account: 'bank', amountMinor: 0.5 },
        { account: 'postage', amountMinor: -0.5 },
      ]),
    ).toThrow('whole minor units')
  })

  it('no penny is in two states or in none, through any payments and remittances', () => {
    const lot = fc.record({ hammer: amount, postage: fc.integer({ min: 0, max: 5_000 }), paid: fc.float({ min: 0, max: 1, noNaN: true }) })
    fc.assert(
      fc.property(fc.array(lot, { minLength: 1, maxLength: 6 }), bp, fc.float({ min: 0, max: 1, noNaN: true }), (lots, share, sent) => {
        const journal = lots.flatMap((each, index) => {
          const id = `lot${index}`
          const pay = Math.floor((each.hammer + each.postage) * each.paid)
          return [hammer(id, each.hammer, share), postage(id, each.postage), payment(id, pay)]
        })
        const before = countProceeds({ lots: [], entries: journal, promises: [], shareBp: share, targetMinor: 0 })
        const whole = 0 - sumOf(journal, 'owed-to-cause')
        expect(before.wonMinor + before.paidMinor).toBe(whole)
        const after = countProceeds({
          lots: [],
          entries: [...journal, remittance(Math.floor(before.paidMinor * sent))],
          promises: [],
          shareBp: share,
          targetMinor: 0,
        })
        expect(after.wonMinor + after.paidMinor + after.remittedMinor).toBe(whole)
        expect(Math.min(after.wonMinor, after.paidMinor, after.remittedMinor)).toBeGreaterThanOrEqual(0)
        expect(after.remittedMinor).toBe(Math.floor(before.paidMinor * sent))
      }),
    )
  })
})
