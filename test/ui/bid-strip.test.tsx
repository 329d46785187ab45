import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, test } from 'vitest'
import { BidStrip } from '#app/(public)/lots/[number]/bid-strip.tsx'
import { StepChoice } from '#app/(public)/lots/[number]/step-choice.tsx'
import { YourSide } from '#app/(public)/lots/[number]/your-side.tsx'
import { MINUTE } from '#kernel/instant'
import type { LotFrame, MySide } from '#sale/bidding/bidding.contract'
import { USUAL_LATE_BID } from '#sale/price/late-bid.rules'

const NOW = Date.parse('2027-03-13T23:00:00Z')
const FRAME: LotFrame = {
  number: 7,
  unit: 'TERN-03',
  title: 'Saltmarsh shortwave receiver',
  state: 'open',
  currency: 'GBP',
  standingMinor: 5_500,
  leastNextMinor: 6_000,
  openingMinor: 2_000,
  hammerMinor: null,
  bids: 3,
  reserve: 'none',
  closesAt: NOW + 10 * MINUTE,
  lateBid: USUAL_LATE_BID,
  endedAt: null,
  leaderAlias: '9Q',
  voidedAliases: [],
  extendedTimes: 0,
  heldSince: null,
  heldReason: null,
  corrections: [],
  ledgerSize: 4,
  headHash: null,
  fixedPrice: null,
  serverNow: NOW,
}

describe('that somebody is outbid is said once', () => {
  const strip = (isOutbidSaid: boolean) =>
    renderToStaticMarkup(
      <BidStrip
        frame={FRAME}
        alias="4K"
        now={NOW}
        asOf={{ at: NOW, zone: 'Europe/London' }}
        action="Bid"
        isElsewhere={false}
        isOutbidSaid={isOutbidSaid}
        isOpen={false}
        onToggle={() => {}}
      />,
    )
  const side = (isOutbidSaid: boolean) =>
    renderToStaticMarkup(
      <YourSide
        frame={FRAME}
        side={{ maximumMinor: null } as MySide}
        alias="4K"
        isOutbidSaid={isOutbidSaid}
        isShown={false}
        isRaising={false}
        onShow={() => {}}
      />,
    )
  test('by the chip where nothing else says it, in the strip and beside the form', () => {
    expect(strip(false)).toContain('You are outbid')
    expect(side(false)).toContain('You are outbid')
  })
  test('by the news alone while they stand', () => {
    expect(strip(true)).not.toMatch(/outbid/i)
    expect(strip(true)).toContain('£55')
    expect(side(true)).not.toMatch(/outbid/i)
    expect(side(true)).toContain('Your alias here is 4K.')
  })
})

describe('steps that stand still for a moment', () => {
  const steps = (least: number) =>
    renderToStaticMarkup(
      <StepChoice steps={[5_500, 6_500, 8_000]} least={least} choice={null} choose={() => {}} show={(minor) => `£${minor / 100}`} />,
    )
  test('a step that the price has passed is gone at once, and the others keep their places', () => {
    expect(steps(6_000)).not.toContain('£55')
    expect(steps(6_000)).toContain('£65')
    const places = (markup: string) => [...markup.matchAll(/class="step"/g)].length
    expect(places(steps(6_000))).toBe(places(steps(5_500)))
  })
})

describe('a strip without script', () => {
  test('says as of when its price and time are', () =>
    expect(
      renderToStaticMarkup(
        <BidStrip
          frame={FRAME}
          alias={null}
          now={NOW}
          asOf={{ at: NOW, zone: 'Europe/London' }}
          action="Bid"
          isElsewhere={false}
          isOutbidSaid={false}
          isOpen={false}
          onToggle={() => {}}
        />,
      ),
    ).toMatch(/<noscript[^>]*>as of 23:00:00<\/noscript>/))
})

describe('a leader who raises', () => {
  test('is not shown what they allow unless they ask for it', () => {
    const side = (isShown: boolean) =>
      renderToStaticMarkup(
        <YourSide
          frame={{ ...FRAME, leaderAlias: '4K' }}
          side={{ maximumMinor: 9_000 } as MySide}
          alias="4K"
          isOutbidSaid={false}
          isShown={isShown}
          isRaising
          onShow={() => {}}
        />,
      )
    expect(side(false)).toContain('Show my maximum')
    expect(side(false)).not.toContain('90')
    expect(side(true)).toContain('Your maximum is £90.00. Hide it')
  })
})
