import { describe, expect, it } from 'vitest'
import { type LotTold, lotNotes, roundingNotes } from '#end/statement/lot-notes.rules'

const told = (change: Partial<LotTold> = {}): LotTold => ({
  ...{ number: 3, state: 'paid', by: 'hammer', fellAtMinor: 6_000, hammerMinor: 6_000, agreedMinor: 6_000, causeMinor: 5_400 },
  ...{ shareBp: 9_000, postageMinor: 1_200, receivedMinor: 7_200, owedMinor: 0, isVoided: false },
  ...change,
})
const words = (change: Partial<LotTold> = {}) => lotNotes([told(change)], 'GBP').map((note) => note.words)

describe('why a lot shows another figure', () => {
  it('nothing is said of a lot that was sold and paid as its hammer fell', () => expect(words()).toEqual([]))

  it('a sale that fell through', () =>
    expect(words({ state: 'fell through', hammerMinor: 0, causeMinor: 0, postageMinor: 0, receivedMinor: 0 })).toEqual([
      'The hammer fell at £60.00. The sale fell through, so nothing of it counts.',
    ]))

  it('a price that was lowered', () =>
    expect(words({ hammerMinor: 5_500, causeMinor: 4_950, receivedMinor: 6_700 })).toEqual([
      'Its price was lowered after the sale, from £60.00 to £55.00.',
    ]))

  it('a second contract, lowered in its turn', () =>
    expect(words({ by: 'underbidder', agreedMinor: 4_800, hammerMinor: 4_700, causeMinor: 4_230 })).toEqual([
      'The hammer fell at £60.00, and that sale fell through; it was then sold for £48.00, by a contract of its own with another bidder.',
      'Its price was lowered after the sale, from £48.00 to £47.00.',
    ]))

  it('a fixed price for what no hammer fell on', () =>
    expect(words({ by: 'fixed price', fellAtMinor: 0, agreedMinor: 9_000, hammerMinor: 9_000 })).toEqual([
      'No hammer fell on it; it was then sold for £90.00, at a fixed price.',
    ]))

  it('a fixed price that fell through as well', () =>
    expect(words({ by: 'fixed price', state: 'fell through', agreedMinor: 9_000, hammerMinor: 0, causeMinor: 0 })).toEqual([
      'The hammer fell at £60.00, and that sale fell through; it was then sold for £90.00, at a fixed price.',
      'That sale fell through, so nothing of it counts.',
    ]))

  it('bids that were voided', () => expect(words({ isVoided: true })[0]).toContain('voided before it closed'))

  it('a part payment, of which the postage is covered first', () =>
    expect(words({ state: 'part paid', receivedMinor: 2_200, owedMinor: 5_000 })).toEqual([
      '£22.00 of £72.00 was paid. It covers the postage first, then £10.00 of the price, of which the cause has £9.00.',
    ]))
})

describe('rounding', () => {
  it('is told lot by lot and in all', () => {
    const one = told({ number: 1, hammerMinor: 3_101, causeMinor: 2_713, shareBp: 8_750 })
    const two = told({ number: 2, hammerMinor: 3_003, causeMinor: 2_628, shareBp: 8_750 })
    expect(roundingNotes([one, two], 'GBP')).toEqual([
      'Each price is split between the cause and the seller by the largest remainder, so that no penny is lost.',
      'Lot 1: 87.5 % of £31.01 is £27.13375, rounded to £27.13.',
      'Lot 2: 87.5 % of £30.03 is £26.27625, rounded to £26.28.',
      'In all: 87.5 % of £61.04 is £53.41.',
    ])
  })

  it('is not told where nothing was rounded', () => expect(roundingNotes([told()], 'GBP')).toEqual([]))
})
