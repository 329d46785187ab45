import { expect, test } from 'vitest'
import { sayLateBid } from '#app/(public)/_lots/say-lot.rules.ts'
import type { LotFrame } from '#sale/bidding/bidding.contract'
import { USUAL_LATE_BID } from '#sale/price/late-bid.rules'

const frame = (state: LotFrame['state']) => ({ state, closesAt: 1000, lateBid: USUAL_LATE_BID }) as LotFrame

test('the rule of late bids is told while a bid can be late, and not of a clock that stands still', () => {
  expect(sayLateBid(frame('open'), 900)).toBe('A bid in the last two minutes moves the closing to two minutes after it. ')
  expect(sayLateBid(frame('ready'), 900)).not.toBe('')
  expect(sayLateBid(frame('held'), 900)).toBe('')
  expect(sayLateBid(frame('open'), 1000)).toBe('')
  expect(sayLateBid(frame('sold'), 900)).toBe('')
})
