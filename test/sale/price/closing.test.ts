import { describe, expect, it } from 'vitest'
import { HOUR, MINUTE, SECOND } from '#kernel/instant'
import { replay } from '#sale/history/replay.rules'
import { afterStanding, leavesEnough, leftUntil, outageOf } from '#sale/price/closing.rules'
import { LATE_WINDOW } from '#sale/price/late-bid.rules'
import { makeLot, makeTerms, pounds } from '#test/make/lot-history'

const CLOSES = 60 * MINUTE

describe('a bid and the closing', () => {
  it('is taken one millisecond before the closing and refused at it', () => {
    const lot = makeLot({ closesAt: CLOSES })
    expect(lot.bid('4K', pounds(50), CLOSES - 1)).toBeNull()
    const other = makeLot({ closesAt: CLOSES })
    expect(other.bid('4K', pounds(50), CLOSES)).toBe('This lot has closed. No more bids are taken.')
    expect(other.state.bids).toBe(0)
  })

  it('moves the closing to 120 s after itself when it comes in the last 120 s', () => {
    const lot = makeLot({ closesAt: CLOSES })
    lot.bid('4K', pounds(50), CLOSES - LATE_WINDOW)
    expect(lot.state.closesAt).toBe(CLOSES)
    lot.bid('7R', pounds(80), CLOSES - LATE_WINDOW + 1)
    expect(lot.state.closesAt).toBe(CLOSES + 1)
    expect(lot.state.extensions).toBe(1)
  })

  it('moves nothing when the leader only raises a maximum', () => {
    const lot = makeLot({ closesAt: CLOSES })
    lot.bid('4K', pounds(50), 0)
    lot.bid('4K', pounds(90), CLOSES - SECOND)
    expect(lot.state.closesAt).toBe(CLOSES)
  })

  it('moves the closing when only the price changed', () => {
    const lot = makeLot({ closesAt: CLOSES })
    lot.bid('4K', pounds(90), 0)
    lot.bid('7R', pounds(60), CLOSES - SECOND)
    expect(lot.state.leader?.bidder).toBe('4K')
    expect(lot.state.closesAt).toBe(CLOSES + 119 * SECOND)
  })

  it('is refused below the least, and a leader may raise but never lower', () => {
    const lot = makeLot()
    expect(lot.bid('4K', pounds(19.99), 0)).toBe('Your bid must be at least £20.00.')
    expect(lot.bid('4K', pounds(52), 1)).toBeNull()
    expect(lot.bid('7R', pounds(21.99), 2)).toBe('Your bid must be at least £22.00.')
    expect(lot.bid('4K', pounds(52), 3)).toContain('never lowered')
    expect(lot.bid('4K', pounds(57), 4)).toBeNull()
  })

  it.each([-1, 0, 0.5, Number.NaN, 1e308, Number.POSITIVE_INFINITY])('a maximum of %d is refused in words', (amount) => {
    expect(makeLot().bid('4K', amount, 0)).toContain('Write an amount between')
  })

  it('is refused above the ceiling of the paddle', () => {
    const lot = makeLot()
    const words = lot.say({ kind: 'bid', bidder: '4K', maximumMinor: pounds(500.01), ceilingMinor: pounds(500), sequence: 1 }, 0)
    expect(words).toBe('Your paddle may bid up to £500.00. Ask us to raise it.')
  })
})

describe('a hold', () => {
  it('refuses bids with the reason while the clocks stand, even past the closing', () => {
    const lot = makeLot({ closesAt: CLOSES })
    lot.say({ kind: 'hold', reason: 'The stream is down.' }, CLOSES - MINUTE)
    expect(lot.bid('4K', pounds(50), CLOSES + MINUTE)).toContain('on hold')
    expect(lot.say({ kind: 'close' }, CLOSES + MINUTE)).toBe('This lot is not due to close yet.')
  })

  it('stands still: what is left is what was left when it was stopped, however long ago', () => {
    expect(leftUntil(CLOSES, CLOSES - MINUTE)).toBe(MINUTE)
    expect(leftUntil(CLOSES, CLOSES + HOUR, CLOSES - 5 * MINUTE)).toBe(5 * MINUTE)
  })

  it.each([
    ['a short one costs no more than itself', MINUTE, 119 * SECOND, MINUTE],
    ['two minutes give a quarter of an hour', MINUTE, 120 * SECOND, 15 * MINUTE],
    ['the notice counts from going on, however long it was', MINUTE, 13 * MINUTE, 15 * MINUTE],
    ['a long one gives no more than the notice', MINUTE, 40 * MINUTE, 15 * MINUTE],
    ['what has time enough stays where it was announced', HOUR, 5 * MINUTE, 55 * MINUTE],
    ['a short one takes nothing from what had time enough', HOUR, 90 * SECOND, HOUR - 90 * SECOND],
  ])('%s', (_, left, held, leftThen) => {
    expect(afterStanding(left, 0, held) - held).toBe(leftThen)
  })

  it('goes on with what was left or a quarter of an hour, and with less not at all', () => {
    expect(leavesEnough(10 * MINUTE, 0, 5 * MINUTE, 15 * MINUTE)).toBe(true)
    expect(leavesEnough(10 * MINUTE, 0, 5 * MINUTE, 15 * MINUTE - 1)).toBe(false)
    expect(leavesEnough(HOUR, 0, 5 * MINUTE, HOUR)).toBe(true)
    expect(leavesEnough(HOUR, 0, 5 * MINUTE, HOUR - 1)).toBe(false)
    const lot = makeLot({ closesAt: CLOSES })
    lot.say({ kind: 'hold', reason: 'Sound.' }, CLOSES - MINUTE)
    expect(lot.say({ kind: 'resume', shiftMs: 10 * MINUTE - 1 }, CLOSES + 9 * MINUTE)).toContain('the time that was left')
  })

  it('goes on with the closing moved, and only once', () => {
    const lot = makeLot({ closesAt: CLOSES })
    lot.say({ kind: 'hold', reason: 'Sound.' }, 0)
    expect(lot.say({ kind: 'resume', shiftMs: 5 * MINUTE }, 5 * MINUTE)).toBeNull()
    expect(lot.state).toMatchObject({ phase: 'open', closesAt: CLOSES + 5 * MINUTE })
    expect(lot.say({ kind: 'resume', shiftMs: 1 }, 6 * MINUTE)).toContain('not on hold')
  })
})

describe('an outage', () => {
  it.each([
    ['five seconds are no outage', 5 * SECOND, null],
    ['a longer one in the last 120 s is one', 5 * SECOND + 1, CLOSES - MINUTE + 5 * SECOND + 1],
  ])('%s', (_, down, back) => {
    const alive = CLOSES - MINUTE
    expect(outageOf(alive, alive + down, [{ closesAt: CLOSES }])?.to ?? null).toBe(back)
  })

  it('moves nothing when it ended before the last 120 s', () => {
    expect(outageOf(0, CLOSES - LATE_WINDOW, [{ closesAt: CLOSES }])).toBeNull()
    expect(outageOf(0, CLOSES - LATE_WINDOW + 1, [{ closesAt: CLOSES }])).not.toBeNull()
  })

  it('leaves a lot closed that was due before the process fell silent', () => {
    expect(outageOf(CLOSES, CLOSES + MINUTE, [{ closesAt: CLOSES }])).toBeNull()
  })
})

describe('the end of a lot', () => {
  it('is at the planned instant however late the sweep', () => {
    const lot = makeLot({ closesAt: CLOSES })
    lot.bid('4K', pounds(50), 0)
    expect(lot.say({ kind: 'close' }, CLOSES - 1)).toBe('This lot is not due to close yet.')
    expect(lot.say({ kind: 'close' }, CLOSES + 8 * MINUTE)).toBeNull()
    expect(lot.facts.at(-1)).toEqual({ kind: 'closed', at: CLOSES })
    expect(lot.state.phase).toBe('sold')
    expect(lot.say({ kind: 'close' }, CLOSES + 9 * MINUTE)).toContain('has closed')
  })

  it('is unsold without a bid and under the reserve', () => {
    const lot = makeLot({ closesAt: CLOSES, terms: makeTerms({ reserveMinor: pounds(100) }) })
    lot.bid('4K', pounds(99.99), 0)
    lot.say({ kind: 'close' }, CLOSES)
    expect(lot.state.phase).toBe('unsold')
  })

  it('a withdrawal ends it with no winner, but never once its time has come', () => {
    const lot = makeLot({ closesAt: CLOSES })
    expect(lot.say({ kind: 'withdraw', reason: 'The display failed.' }, CLOSES)).toContain('has closed')
    expect(lot.say({ kind: 'withdraw', reason: 'The display failed.' }, CLOSES - 1)).toBeNull()
    expect(lot.bid('4K', pounds(50), CLOSES - 1)).toContain('withdrawn')
  })

  it('a void lets the price fall, and leaves a quarter of an hour', () => {
    const lot = makeLot({ closesAt: CLOSES })
    lot.bid('4K', pounds(60), 0)
    lot.bid('7R', pounds(40), 1)
    lot.bid('9F', pounds(300), 2)
    expect(lot.state.leader?.bidder).toBe('9F')
    lot.say({ kind: 'void', bidder: '9F', reason: 'Bid in error.' }, CLOSES - MINUTE)
    expect(lot.state).toMatchObject({ leader: { bidder: '4K' }, second: { bidder: '7R' }, closesAt: CLOSES + 14 * MINUTE, bids: 2 })
    expect(replay(lot.terms, lot.facts)).toEqual(lot.state)
  })

  it('a closing is never moved earlier by hand', () => {
    const lot = makeLot({ closesAt: CLOSES })
    expect(lot.say({ kind: 'extend', closesAt: CLOSES, reason: 'The guest is late.' }, 0)).toContain('never moved earlier')
    expect(lot.say({ kind: 'extend', closesAt: CLOSES + 1, reason: 'The guest is late.' }, 0)).toBeNull()
  })
})
