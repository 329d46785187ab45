import { describe, expect, it } from 'vitest'
import { type AirLot, comingWords, figureWords, resultWords, standsWords, viewAt } from '#air/screens/host.rules'
import { MINUTE, SECOND } from '#kernel/instant'
import { USUAL_LATE_BID } from '#sale/price/late-bid.rules'
import type { ProgrammeItem } from '#sale/programme/programme.contract'

const at = (clock: string) => Date.parse(`2027-03-13T${clock}:00Z`)
const closing = (lot: number, clock: string, more: Partial<ProgrammeItem> = {}): ProgrammeItem => ({
  uid: 'lot',
  isWithdrawn: false,
  fixedPrice: null,
  isSoldElsewhere: false,
  lateBid: null,
  id: `c${lot}`,
  kind: 'closing',
  title: `Lot ${lot}`,
  note: '',
  lot,
  unit: `TERN-0${lot}`,
  startsAt: at(clock),
  endsAt: at(clock),
  runsTo: at(clock),
  isAnnounced: true,
  isOver: false,
  isHeld: false,
  heldSince: null,
  isExtended: false,
  keepsTime: false,
  sequence: 0,
  changedAt: 0,
  ...more,
})
const lot = (number: number, clock: string, more: Partial<AirLot> = {}): AirLot => ({
  number,
  title: 'Saltmarsh shortwave receiver',
  unit: `TERN-0${number}`,
  state: 'open',
  standingMinor: 16_500,
  bids: 11,
  reserve: 'none',
  lateBid: USUAL_LATE_BID,
  closesAt: at(clock),
  endedAt: null,
  heldSince: null,
  hammerMinor: null,
  ...more,
})
const shut = { state: 'sold', endedAt: at('20:00'), hammerMinor: 16_500 }

describe('whose moment it is', () => {
  it('the next closing stands there from the start, with no cue before its ten minutes', () => {
    const view = viewAt([closing(7, '20:00'), closing(8, '20:30')], [lot(7, '20:00'), lot(8, '20:30')], at('19:00'))
    expect(view.lot?.number).toBe(7)
    expect(view.cue?.key).toBe('wait')
    expect(view.next.map((item) => item.lot)).toEqual([8])
  })

  it('a lot that has just closed stays for five minutes with its result', () => {
    const items = [closing(7, '20:00', { isOver: true }), closing(8, '20:30')]
    const lots = [lot(7, '20:00', shut), lot(8, '20:30')]
    expect(viewAt(items, lots, at('20:00')).cue?.key).toBe('result')
    expect(viewAt(items, lots, at('20:05') - 1).lot?.number).toBe(7)
    expect(viewAt(items, lots, at('20:05')).lot?.number).toBe(8)
  })

  it('the result gives way after a minute when the next has begun', () => {
    const items = [closing(7, '20:00', { isOver: true }), closing(8, '20:10')]
    const lots = [lot(7, '20:00', shut), lot(8, '20:10')]
    expect(viewAt(items, lots, at('20:00') + MINUTE - 1).lot?.number).toBe(7)
    expect(viewAt(items, lots, at('20:00') + MINUTE).lot?.number).toBe(8)
  })

  it('an extension counts by the time at which it closes now, and the day runs over by it', () => {
    const items = [closing(7, '20:00', { runsTo: at('20:02') })]
    const view = viewAt(items, [lot(7, '20:02')], at('20:01') + 30 * SECOND)
    expect(view.cue?.key).toBe('last-call')
    expect(view.over).toBe(2 * MINUTE)
  })

  it('with nothing planned there is nothing to show', () => {
    expect(viewAt([], [lot(7, '20:00')], at('19:00'))).toMatchObject({ lot: null, cue: null, over: 0 })
  })
})

describe('the result in words', () => {
  const show = (minor: number) => `£${minor / 100}`

  it('says the hammer price only of a lot that the house has sold', () => {
    expect(resultWords(lot(7, '20:00', shut), show)).toBe('Sold for £165')
    expect(resultWords(lot(7, '20:00', { state: 'unsold', reserve: 'unreached' }), show)).toContain('the reserve was not reached')
    expect(resultWords(lot(7, '20:00', { state: 'unsold', bids: 0 }), show)).toContain('there was no bid')
    expect(resultWords(lot(7, '20:00', { state: 'withdrawn' }), show)).toContain('nobody wins')
  })
})

it('names the lot that comes after the one on air, though its ten minutes have begun', () => {
  const items = [closing(4, '20:00', { runsTo: at('20:09') }), closing(5, '20:15'), closing(6, '20:40')]
  const lots = [lot(4, '20:09'), lot(5, '20:15'), lot(6, '20:40')]
  expect(viewAt(items, lots, at('20:07'))).toMatchObject({ lot: { number: 4 }, next: [{ lot: 5 }, { lot: 6 }] })
})

it('lets a lot whose result comes from elsewhere go from the screen after its five minutes', () => {
  const elsewhere = [closing(4, '20:00')]
  const lots = [lot(4, '20:00')]
  expect(viewAt(elsewhere, lots, at('20:04')).lot?.number).toBe(4)
  expect(viewAt(elsewhere, lots, at('20:05'))).toMatchObject({ lot: null, over: 0 })
  // A lot that is held stays, however long.
  expect(
    viewAt([closing(4, '20:00', { isHeld: true, heldSince: at('19:58') })], [lot(4, '20:00', { state: 'held' })], at('20:30')).lot?.number,
  ).toBe(4)
})

describe('the figure beside the countdown', () => {
  const words = (more: Partial<AirLot>, isOver: boolean) =>
    Object.values(figureWords(lot(7, '20:00', more), isOver, (minor) => `£${minor / 100}`))
  it('is the bid that stands, and once it has closed the hammer price', () => {
    expect(words({}, false)).toEqual(['£165', '11 bids'])
    expect(words({ standingMinor: null, bids: 0, reserve: 'unreached' }, false)).toEqual(['no bid', '0 bids, reserve not reached'])
    expect(words(shut, true)).toEqual(['£165', 'hammer price'])
  })
  it('says of a lot that nobody won why, and never "no bid" of one that had bids', () => {
    expect(words({ state: 'unsold', reserve: 'unreached' }, true)).toEqual(['not sold', 'the reserve was not reached'])
    expect(words({ state: 'unsold', bids: 0 }, true)).toEqual(['not sold', 'there was no bid'])
    expect(words({ state: 'withdrawn' }, true)).toEqual(['withdrawn', 'nobody wins it'])
  })
})

describe('a lot that is sold under another address', () => {
  const show = (minor: number) => `£${minor / 100}`
  const item = closing(4, '20:00', { isSoldElsewhere: true })
  const itsLot = lot(4, '20:00', { standingMinor: null, bids: 0 })
  const { lot: onAir } = viewAt([item], [itsLot], at('19:55'))

  it('says so in place of a bid, which nobody here would know of', () => {
    expect(standsWords(item, itsLot, show)).toBe('sold elsewhere: its bids are not seen here')
    expect(onAir && figureWords(onAir, false, show)).toEqual({ figure: 'elsewhere', below: 'its bids are not seen here' })
    expect(comingWords(item)).toBe('Lot 4 (sold elsewhere)')
    // Of one that is sold here it is known.
    expect(standsWords(closing(4, '20:00'), itsLot, show)).toBe('no bid yet')
    expect(standsWords(closing(4, '20:00'), lot(4, '20:00'), show)).toBe('£165, 11 bids')
    expect(comingWords(closing(4, '20:00'))).toBe('Lot 4')
  })

  it('says no more than that it was not sold', () => {
    expect(standsWords({ ...item, isOver: true }, { ...itsLot, state: 'unsold' }, show)).toBe('Not sold')
    expect(onAir && figureWords({ ...onAir, state: 'unsold' }, true, show)).toEqual({ figure: 'not sold', below: 'so it ended elsewhere' })
  })
})

it('a sale that fell through is not called sold in the list of the day', () => {
  const words = standsWords(
    closing(7, '20:00', { isOver: true }),
    lot(7, '20:00', { ...shut, standsMinor: 0 }),
    (minor) => `£${minor / 100}`,
  )
  expect(words).toBe('The hammer fell at £165, and the sale fell through')
})
