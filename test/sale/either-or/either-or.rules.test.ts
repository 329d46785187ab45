import { describe, expect, it } from 'vitest'
import { MINUTE, SECOND } from '#kernel/instant'
import { mostOfEitherOr, warningsOf } from '#sale/either-or/either-or.rules'
import { makeSaleDay } from '#test/make/either-ors'
import { pounds } from '#test/make/lot-history'

const HALF = 30 * MINUTE
const closings = [HALF, 2 * HALF, 3 * HALF]
const phases = ({ eitherOr }: ReturnType<ReturnType<typeof makeSaleDay>['make']>) => eitherOr.links.map(({ phase }) => phase)

describe('either one or the other', () => {
  it('says the first at once, and the next at the official close of the one that was lost', () => {
    const day = makeSaleDay(closings)
    const eitherOr = day.make(
      '4K',
      {
        links: [
          [1, pounds(80)],
          [2, pounds(90)],
        ],
      },
      0,
    )
    expect(phases(eitherOr)).toEqual(['awake', 'waiting'])
    day.bid('7R', 1, pounds(120), MINUTE)
    day.closeUntil(HALF + 5 * SECOND)
    expect(phases(eitherOr)).toEqual(['lost', 'awake'])
    expect(day.lotAt(2).facts.at(-1)).toMatchObject({ kind: 'bid', at: HALF, bidder: '4K', maximumMinor: pounds(90) })
  })

  it('arrives before whatever came after that close, however late the close was noticed', () => {
    const day = makeSaleDay(closings)
    day.make(
      '4K',
      {
        links: [
          [1, pounds(80)],
          [2, pounds(90)],
        ],
      },
      0,
    )
    day.bid('7R', 1, pounds(120), MINUTE)
    expect(day.bid('9F', 2, pounds(90), HALF + 1)).toBeNull()
    expect(day.lotAt(2).state.leader?.bidder).toBe('4K')
  })

  it('stops once one is won', () => {
    const day = makeSaleDay(closings)
    const eitherOr = day.make(
      '4K',
      {
        links: [
          [1, pounds(80)],
          [2, pounds(90)],
          [3, pounds(90)],
        ],
      },
      0,
    )
    day.closeUntil(HALF)
    expect(phases(eitherOr)).toEqual(['won', 'lapsed', 'lapsed'])
    expect(day.lotAt(2).state.bids).toBe(0)
  })

  it('two of three stand at once, and the third wakes when one of them is lost', () => {
    const day = makeSaleDay(closings)
    const eitherOr = day.make(
      '4K',
      {
        mostWins: 2,
        links: [
          [1, pounds(80)],
          [2, pounds(80)],
          [3, pounds(80)],
        ],
      },
      0,
    )
    expect(phases(eitherOr)).toEqual(['awake', 'awake', 'waiting'])
    day.closeUntil(HALF)
    day.bid('7R', 2, pounds(200), HALF + 1)
    day.closeUntil(2 * HALF)
    expect(phases(eitherOr)).toEqual(['won', 'lost', 'awake'])
  })

  it('a cap that two maxima would pass together holds the second back until the first is known', () => {
    const day = makeSaleDay(closings)
    const links: [number, number][] = [
      [1, pounds(80)],
      [2, pounds(80)],
    ]
    const eitherOr = day.make('4K', { mostWins: 2, capMinor: pounds(110), links }, 0)
    expect(phases(eitherOr)).toEqual(['awake', 'waiting'])
    day.closeUntil(HALF)
    expect(phases(eitherOr)).toEqual(['won', 'awake'])
    const tight = makeSaleDay(closings)
    const other = tight.make('4K', { mostWins: 2, capMinor: pounds(99), links }, 0)
    tight.closeUntil(HALF)
    expect(phases(other)).toEqual(['won', 'lapsed'])
  })

  it('lapses below the least bid at waking, and goes on to the one after', () => {
    const day = makeSaleDay(closings)
    const eitherOr = day.make(
      '4K',
      {
        links: [
          [1, pounds(30)],
          [2, pounds(30)],
          [3, pounds(30)],
        ],
      },
      0,
    )
    day.bid('7R', 1, pounds(60), 1)
    for (const [bidder, amount] of [
      ['7R', 60],
      ['9F', 70],
    ] as const)
      day.bid(bidder, 2, pounds(amount), 2)
    day.closeUntil(HALF)
    expect(phases(eitherOr)).toEqual(['lost', 'lapsed', 'awake'])
  })

  it('lapses when its lot closed first, also at the very same instant', () => {
    for (const second of [HALF - 1, HALF]) {
      const day = makeSaleDay([HALF, second])
      const eitherOr = day.make(
        '4K',
        {
          links: [
            [1, pounds(30)],
            [2, pounds(30)],
          ],
        },
        0,
      )
      day.bid('7R', 1, pounds(60), 1)
      day.closeUntil(HALF)
      expect(phases(eitherOr)).toEqual(['lost', 'lapsed'])
    }
  })

  it('wakes after a withdrawal, waits for a lot on hold, and lapses with a lot that was withdrawn', () => {
    const day = makeSaleDay(closings)
    const eitherOr = day.make(
      '4K',
      {
        links: [
          [1, pounds(30)],
          [2, pounds(30)],
          [3, pounds(30)],
        ],
      },
      0,
    )
    day.say(2, { kind: 'hold', reason: 'Sound.' }, 1)
    day.say(1, { kind: 'withdraw', reason: 'Broken.' }, 2)
    expect(phases(eitherOr)).toEqual(['lost', 'waiting', 'waiting'])
    day.say(2, { kind: 'resume', shiftMs: 3 }, 4)
    expect(phases(eitherOr)).toEqual(['lost', 'awake', 'waiting'])
    day.say(3, { kind: 'withdraw', reason: 'Broken.' }, 5)
    expect(phases(eitherOr)).toEqual(['lost', 'awake', 'lapsed'])
  })

  it('takes no direct bid on a lot of one’s own either-or', () => {
    const day = makeSaleDay(closings)
    day.make(
      '4K',
      {
        links: [
          [1, pounds(30)],
          [2, pounds(30)],
        ],
      },
      0,
    )
    expect(day.bid('4K', 2, pounds(90), 1)).toBe('in an either-or')
    expect(day.bid('4K', 3, pounds(90), 1)).toBeNull()
  })
})

describe('what an either-or can cost', () => {
  const link = (place: number, maximumMinor: number, change = {}) => ({
    place,
    lot: place,
    maximumMinor,
    phase: 'waiting' as const,
    hammerMinor: null,
    ...change,
  })

  it('is its dearest maxima that may all be won, never the sum of all', () => {
    expect(mostOfEitherOr({ mostWins: 1, capMinor: null, links: [link(1, 80), link(2, 90)] })).toBe(90)
    expect(mostOfEitherOr({ mostWins: 2, capMinor: null, links: [link(1, 80), link(2, 90), link(3, 70)] })).toBe(170)
  })

  it('is never more than what the cap leaves', () => {
    const won = link(1, 80, { phase: 'won', hammerMinor: 40 })
    expect(mostOfEitherOr({ mostWins: 2, capMinor: 100, links: [won, link(2, 90)] })).toBe(60)
  })
})

describe('a warning before a lapse', () => {
  const eitherOr = (day: ReturnType<typeof makeSaleDay>) =>
    day.make(
      '4K',
      {
        links: [
          [1, pounds(30)],
          [2, pounds(30)],
        ],
      },
      0,
    ).eitherOr

  it.each([
    ['a lot that closes before the one it waits for', [HALF, HALF - 1], 'closes before lot 1'],
    ['a lot that closes at the same instant', [HALF, HALF], 'closes before lot 1'],
    ['a lot that closes soon after', [HALF, HALF + 9 * MINUTE], 'closes soon after lot 1'],
  ])('stands at %s', (_, times, words) => {
    const day = makeSaleDay(times)
    expect(warningsOf(eitherOr(day), day.lotNow).join()).toContain(words)
  })

  it('stands at a maximum that is below the least bid already, and nowhere else', () => {
    const day = makeSaleDay(closings)
    const made = eitherOr(day)
    expect(warningsOf(made, day.lotNow)).toEqual([])
    day.bid('7R', 2, pounds(60), 1)
    day.bid('9F', 2, pounds(70), 2)
    expect(warningsOf(made, day.lotNow)).toEqual(['A bid on lot 2 has to be at least £70 by now: its maximum is likely to lapse.'])
  })
})
