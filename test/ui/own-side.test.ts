import { describe, expect, test } from 'vitest'
import { isSidePast, learnSide, sideBeside } from '#app/(public)/lots/[number]/own-side.rules.ts'
import type { LotFrame, MySide } from '#sale/bidding/bidding.contract'

const FRAME = { leaderAlias: '4K', standingMinor: 15_000, bids: 3, voidedAliases: [], ledgerSize: 4 } as unknown as LotFrame
const frame = (change: Partial<LotFrame> = {}): LotFrame => ({ ...FRAME, ...change })
const SIDE = { alias: '4K', maximumMinor: 16_000, leads: true, isVoided: false, barred: null } as unknown as MySide
const side = (change: Partial<MySide> = {}): MySide => ({ ...SIDE, ...change })
const known = (mine = side(), asOf = frame()) => learnSide(null, mine, asOf)

describe('one’s own side of a lot, on a page that is not the only one', () => {
  test('is asked anew once a bid came in while the reader leads: it may be a raise of their own', () => {
    expect(isSidePast(known(), frame())).toBe(false)
    expect(isSidePast(known(), frame({ bids: 4 }))).toBe(true)
    expect(isSidePast(known(), frame({ bids: 4, standingMinor: 24_000 }))).toBe(true)
    expect(isSidePast(learnSide(known(), side({ maximumMinor: 30_000 }), frame({ bids: 4 })), frame({ bids: 4 }))).toBe(false)
  })
  test('and once the reader leads again by a bid that this page did not make', () => {
    const outbid = known(side({ leads: false }), frame({ leaderAlias: '9Q' }))
    expect(isSidePast(outbid, frame({ leaderAlias: '9Q', bids: 4 }))).toBe(false)
    expect(isSidePast(outbid, frame({ leaderAlias: '4K', bids: 4 }))).toBe(true)
  })
  test('and once somebody leads who may be the reader, but never twice for the same alias', () => {
    const none = known(side({ alias: null, maximumMinor: null, leads: false }))
    expect(isSidePast(none, frame({ bids: 4 }))).toBe(false)
    expect(isSidePast(none, frame({ leaderAlias: '9Q', bids: 4 }))).toBe(true)
    const later = learnSide(none, none.side, frame({ leaderAlias: '9Q', bids: 4 }))
    expect(isSidePast(later, frame({ leaderAlias: '4K', bids: 5 }))).toBe(false)
    expect(isSidePast(later, frame({ leaderAlias: '9Q', bids: 6 }))).toBe(false)
    expect(isSidePast(known(side({ alias: null, barred: 'Staff do not bid.' })), frame({ leaderAlias: '9Q' }))).toBe(false)
  })
  test('and once their bids were voided, until the house has said so itself', () => {
    expect(isSidePast(known(), frame({ leaderAlias: '9Q', voidedAliases: ['4K'] }))).toBe(true)
    expect(isSidePast(known(side({ isVoided: true })), frame({ leaderAlias: '9Q', voidedAliases: ['4K'] }))).toBe(false)
  })
  test('never shows a maximum that the price of its own leader has passed', () => {
    expect(sideBeside(known(), frame({ standingMinor: 16_000 })).maximumMinor).toBe(16_000)
    expect(sideBeside(known(), frame({ standingMinor: 24_000 })).maximumMinor).toBeNull()
    expect(sideBeside(known(), frame({ standingMinor: 24_000, leaderAlias: '9Q' })).maximumMinor).toBe(16_000)
  })
})
