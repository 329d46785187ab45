import { describe, expect, test } from 'vitest'
import { countdownWords } from '#app/_ui/countdown.rules.ts'
import { type News, newsAfter, sayNews, sayTaken } from '#app/(public)/lots/[number]/news.rules.ts'
import { sayMade } from '#app/(public)/me/either-or/draft.rules.ts'
import { MINUTE, SECOND } from '#kernel/instant'
import type { LotFrame } from '#sale/bidding/bidding.contract'
import type { BidAnswer } from '#sale/bids/bids.contract'
import { USUAL_LATE_BID } from '#sale/price/late-bid.rules'

const NOW = Date.parse('2027-03-13T23:29:10Z')
const CLOSES = Date.parse('2027-03-13T23:30:00Z')
const OPEN: LotFrame = {
  number: 7,
  unit: 'TERN-03',
  title: 'Saltmarsh shortwave receiver',
  state: 'open',
  currency: 'GBP',
  standingMinor: 16_500,
  leastNextMinor: 17_500,
  openingMinor: 2000,
  hammerMinor: null,
  bids: 11,
  reserve: 'none',
  closesAt: CLOSES,
  lateBid: USUAL_LATE_BID,
  endedAt: null,
  leaderAlias: '4K',
  voidedAliases: [],
  extendedTimes: 0,
  heldSince: null,
  heldReason: null,
  corrections: [],
  ledgerSize: 12,
  headHash: null,
  fixedPrice: null,
  serverNow: NOW,
}
/** The lot after each change in turn, and what stands on the page of `alias` in the end, so many milliseconds after the last. */
function said(changes: readonly Partial<LotFrame>[], { alias = '4K', after = 0 } = {}) {
  let [frame, news]: [LotFrame, News | null] = [OPEN, null]
  for (const change of changes) {
    const next = { ...frame, ...change }
    news = newsAfter(news, frame, next, alias)
    frame = next
  }
  return sayNews(news, frame, frame.serverNow + after, 'Europe/London')
}
const LATE = { leaderAlias: '9Q', standingMinor: 17_500, bids: 12, extendedTimes: 1, closesAt: NOW + 2 * MINUTE }

describe('what has just happened to a lot', () => {
  test('a late bid is told in words that stay true beside a clock that runs', () => {
    expect(said([LATE], { alias: '' })).toEqual({ title: 'Extended', words: 'A late bid moved the closing.' })
    expect(said([{ ...LATE, lateBid: { windowMs: 120_000, addsMs: 90_000 }, closesAt: NOW + 90_000 }], { alias: '' })?.words).toBe(
      'A late bid moved the closing.',
    )
  })
  test('nobody is alerted to the time that their own bid added, and everybody to what another one adds', () => {
    expect(said([LATE], { alias: '9Q' })).toBeNull()
    expect(said([LATE, { standingMinor: 18_500, bids: 13, extendedTimes: 2 }], { alias: '9Q' })?.words).toBe(
      'A late bid moved the closing.',
    )
  })
  test('more time from the house is said as the time at which it closes', () => {
    expect(said([{ extendedTimes: 1, closesAt: CLOSES + 5 * MINUTE }])).toEqual({ title: 'Extended', words: 'It closes at 23:35 now.' })
  })
  test('the words about the closing leave with the next bid, after a while, on hold and at the end', () => {
    expect(said([LATE, { bids: 13, standingMinor: 18_500 }], { alias: '' })).toBeNull()
    expect(said([LATE], { alias: '', after: 30 * SECOND })).toBeNull()
    expect(said([LATE, { state: 'held' }], { alias: '' })).toBeNull()
    expect(said([LATE, { state: 'sold' }])).toBeNull()
  })
  test('whoever was outbid reads who leads now and at what, until they lead again or it is over', () => {
    const outbid = { leaderAlias: '9Q', standingMinor: 17_500, bids: 12 }
    expect(said([outbid])).toEqual({ title: 'You were outbid', words: 'Alias 9Q leads at £175.' })
    expect(said([outbid, { leaderAlias: '2B', standingMinor: 18_500, bids: 13 }])?.words).toBe('Alias 2B leads at £185.')
    expect(said([LATE])?.words).toBe('Alias 9Q leads at £175. A late bid moved the closing.')
    expect(said([outbid, { leaderAlias: '4K', standingMinor: 18_500, bids: 13 }])).toBeNull()
    expect(said([outbid, { state: 'withdrawn' }])).toBeNull()
  })
  test('whoever was voided was not outbid', () => {
    expect(said([{ leaderAlias: '9Q', standingMinor: 8000, bids: 8, voidedAliases: ['4K'] }])).toBeNull()
    expect(
      said([
        { leaderAlias: '9Q', bids: 8, voidedAliases: ['4K'] },
        { standingMinor: 9000, bids: 9 },
      ]),
    ).toBeNull()
  })
})

describe('what stands over a bid that was taken', () => {
  const answer = (leads: boolean) => ({ alias: '4K', leads, standingMinor: 16_500, receipt: { size: 12 } }) as unknown as BidAnswer
  test('the lead at the price of now, until it is lost', () => {
    expect(sayTaken(answer(true), OPEN)?.title).toBe('Taken. You lead at £165')
    expect(sayTaken(answer(true), { ...OPEN, standingMinor: 17_500, ledgerSize: 13 })?.title).toBe('Taken. You lead at £175')
    expect(sayTaken(answer(true), { ...OPEN, leaderAlias: '9Q', ledgerSize: 13 })).toBeNull()
    // A frame from before the bid says nothing of it.
    expect(sayTaken(answer(true), { ...OPEN, leaderAlias: '9Q', standingMinor: 9000, ledgerSize: 11 })?.title).toBe(
      'Taken. You lead at £165',
    )
  })
  test('outbid at once, until the next bid moves the price', () => {
    const other = { ...OPEN, leaderAlias: '9Q' }
    expect(sayTaken(answer(false), other)?.title).toBe('Taken, but outbid at once: the price is £165')
    expect(sayTaken(answer(false), { ...other, standingMinor: 17_500, ledgerSize: 13 })).toBeNull()
  })
  test('nothing once it was voided', () => expect(sayTaken(answer(true), { ...OPEN, voidedAliases: ['4K'] })).toBeNull())
})

test('an either-or that was made says in whole sentences what stands and what waits', () => {
  const stands = ['you lead lot 1 at £20']
  expect(sayMade(stands, 0)).toBe('Taken, and checked in this browser: you lead lot 1 at £20.')
  expect(sayMade(stands, 1)).toBe('Taken, and checked in this browser: you lead lot 1 at £20. One more lot waits for its turn.')
  expect(sayMade(stands, 2)).toBe('Taken, and checked in this browser: you lead lot 1 at £20. Two more lots wait for their turn.')
  expect(sayMade([], 2)).toBe('Kept. No bid stands yet: the first lot is on hold, and your bid is placed once its clock runs again.')
})

test('a held clock stands still: it shows what was left when it was stopped, however long ago', () => {
  expect(countdownWords('running', CLOSES, NOW, NOW)).toBe('Held with 50 s left')
  expect(countdownWords('running', CLOSES, CLOSES + MINUTE, NOW)).toBe('Held with 50 s left')
})
