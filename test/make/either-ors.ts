import type { Instant } from '#kernel/instant'
import { type EitherOr, type Link, type LotNow, nextStep } from '#sale/either-or/either-or.rules'
import { hammerOf, leastNext, priceOf } from '#sale/price/price.rules'
import { makeLot, makeTerms, pounds } from './lot-history'

/** Some lots and some either-ors without a house around them: what the services do, by the rules alone. */
export function makeSaleDay(closings: readonly Instant[], openingMinor = pounds(20)) {
  const lots = closings.map((closesAt, index) => makeLot({ closesAt, number: index + 1, terms: makeTerms({ openingMinor }) }))
  const eitherOrs: { bidder: string; eitherOr: EitherOr }[] = []
  const lotAt = (number: number) => {
    const lot = lots[number - 1]
    if (!lot) throw new Error(`no lot ${number}`)
    return lot
  }
  const lotNow = (number: number): LotNow => {
    const { state, terms } = lotAt(number)
    const standing = priceOf(terms, state)?.priceMinor ?? null
    return { phase: state.phase, closesAt: state.closesAt, leastNextMinor: leastNext(terms, standing), currency: 'GBP' }
  }
  const change = (one: { eitherOr: EitherOr }, place: number, changed: Partial<Link>) => {
    one.eitherOr = { ...one.eitherOr, links: one.eitherOr.links.map((link) => (link.place === place ? { ...link, ...changed } : link)) }
  }
  const advance = (one: { bidder: string; eitherOr: EitherOr }, at: Instant) => {
    for (let step = nextStep(one.eitherOr, lotNow, at); step; step = nextStep(one.eitherOr, lotNow, at)) {
      const { place } = step
      const link = one.eitherOr.links.find((each) => each.place === place)
      const refused = step.kind === 'wake' && link ? lotAt(link.lot).bid(one.bidder, link.maximumMinor, at) : ''
      change(one, place, { phase: refused === null ? 'awake' : 'lapsed' })
    }
  }
  const settle = (number: number, at: Instant) => {
    const { state, terms } = lotAt(number)
    const hammerMinor = hammerOf(terms, state)
    for (const one of eitherOrs) {
      const link = one.eitherOr.links.find(({ lot, phase }) => lot === number && phase === 'awake')
      const won = state.phase === 'sold' && state.leader?.bidder === one.bidder
      if (link) change(one, link.place, won ? { phase: 'won', hammerMinor } : { phase: 'lost' })
      advance(one, at)
    }
  }
  /** Everything that closes up to an instant does, earliest first, and wakes what it wakes. */
  const closeUntil = (now: Instant) => {
    for (;;) {
      const due = lots
        .map(({ state }, index) => ({ number: index + 1, state }))
        .filter(({ state }) => state.phase === 'open' && (state.closesAt ?? now + 1) <= now)
        .sort((a, b) => (a.state.closesAt ?? 0) - (b.state.closesAt ?? 0) || a.number - b.number)[0]
      if (!due) return
      lotAt(due.number).say({ kind: 'close' }, now)
      settle(due.number, due.state.closesAt ?? now)
    }
  }
  return {
    lots,
    eitherOrs,
    lotAt,
    lotNow,
    closeUntil,
    make(bidder: string, wishes: { links: readonly [number, number][]; mostWins?: number; capMinor?: number | null }, at: Instant) {
      const { links, mostWins = 1, capMinor = null } = wishes
      const made = links.map(
        ([lot, maximumMinor], index): Link => ({ place: index + 1, lot, maximumMinor, phase: 'waiting', hammerMinor: null }),
      )
      const one = { bidder, eitherOr: { mostWins, capMinor, links: made } as EitherOr }
      eitherOrs.push(one)
      advance(one, at)
      return one
    },
    bid(bidder: string, number: number, maximumMinor: number, now: Instant) {
      closeUntil(now)
      const isInOne = eitherOrs.some(
        ({ bidder: owner, eitherOr }) =>
          owner === bidder && eitherOr.links.some(({ lot, phase }) => lot === number && (phase === 'waiting' || phase === 'awake')),
      )
      return isInOne ? 'in an either-or' : lotAt(number).bid(bidder, maximumMinor, now)
    },
    /** A hold, its end, a withdrawal: settled as the services do. */
    say(number: number, command: Parameters<ReturnType<typeof makeLot>['say']>[0], now: Instant) {
      closeUntil(now)
      const words = lotAt(number).say(command, now)
      if (words === null && command.kind === 'withdraw') settle(number, now)
      if (words === null && command.kind === 'resume') for (const one of eitherOrs) advance(one, now)
      return words
    },
  }
}
