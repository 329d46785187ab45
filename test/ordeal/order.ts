import type { PriceTerms } from '#sale/price/price.rules'
import { leastOf, type PlainBid, standingOf } from '#test/make/standing'

/** One operation on a lot as a client saw it: between two moments of its own clock it was asked and answered. */
export interface Operation {
  bidder: string
  began: number
  ended: number
  /** The house's clock at the earliest and the latest at which it can have been decided. */
  clock: readonly [number, number]
  what: Bid | Read
}
interface Bid {
  kind: 'bid'
  maximumMinor: number
  /** What was answered; null where it was refused. */
  taken: { sequence: number; at: number; alias: string; leads: boolean; standingMinor: number; closesAt: number } | null
}
interface Read {
  kind: 'read'
  bids: number
  standingMinor: number | null
  leader: string | null
  closesAt: number
}

export interface Lot {
  terms: PriceTerms
  closesAt: number
}

/** The lot after so many bids were taken, by the model. */
interface State {
  standing: ReturnType<typeof standingOf>
  closesAt: number
}

const LAST_TWO_MINUTES = 120_000

/**
 * Whether all that the clients saw can have happened one after another, each somewhere between its asking and its answer, to a
 * lot that keeps the rules of bidding. What cannot, in words; nothing where there is such an order.
 */
export function checkOrder(lot: Lot, operations: readonly Operation[]): string[] {
  const { states, aliases, faults } = playTaken(lot, operations)
  if (faults.length > 0) return faults
  return [...faults, ...checkPlaces(lot, operations, states, aliases)]
}

/** Plays what was taken, in the order of its numbers: each was high enough and in time, and was told what it led to. */
function playTaken({ terms, closesAt: planned }: Lot, operations: readonly Operation[]) {
  const faults: string[] = []
  const taken = operations
    .flatMap((one) => (one.what.kind === 'bid' && one.what.taken ? [{ ...one, bid: one.what, told: one.what.taken }] : []))
    .sort((a, b) => a.told.sequence - b.told.sequence)
  const states: State[] = [{ standing: standingOf(terms, []), closesAt: planned }]
  const aliases = new Map<string, string>()
  let bids: PlainBid[] = []
  let lastAt = Number.NEGATIVE_INFINITY
  for (const [place, { bidder, bid, told, clock }] of taken.entries()) {
    const say = (words: string) => faults.push(`bid ${told.sequence} of ${bidder}: ${words}`)
    const before = states[place] as State
    if (told.sequence !== place + 1)
      return { states, aliases, faults: [`bid ${place + 1} is not there, or bid ${told.sequence} is there twice`] }
    if (bid.maximumMinor < leastOf(terms, before.standing, bidder)) say('it was too low, and was taken')
    if (told.at >= before.closesAt) say('it came after the closing, and was taken')
    if (told.at < lastAt) say('its stamp is before that of the bid before it')
    if (told.at < clock[0] || told.at > clock[1]) say('its stamp lies outside the time in which it was under way')
    if ((aliases.get(bidder) ?? told.alias) !== told.alias) say('its bidder had another alias before')
    if ([...aliases].some(([who, alias]) => alias === told.alias && who !== bidder)) say('its alias is that of another bidder')
    aliases.set(bidder, told.alias)
    bids = [...bids.filter((one) => one.bidder !== bidder), { bidder, maximumMinor: bid.maximumMinor }]
    const standing = standingOf(terms, bids)
    const mattered = standing.leader !== before.standing.leader || standing.price !== before.standing.price
    const closesAt = mattered && before.closesAt - told.at < LAST_TWO_MINUTES ? told.at + LAST_TWO_MINUTES : before.closesAt
    if (told.leads !== (standing.leader === bidder))
      say(`it was told ${told.leads ? 'that it leads' : 'that another leads'}, and that is not so`)
    if (told.standingMinor !== standing.price) say(`it was told a price of ${told.standingMinor}, and it is ${standing.price}`)
    if (told.closesAt !== closesAt) say(`it was told a closing ${told.closesAt - closesAt} ms from where it is`)
    lastAt = told.at
    states.push({ standing, closesAt })
    if (faults.length > 0) break
  }
  return { states, aliases, faults }
}

/**
 * Gives each operation, in the order in which they were asked, the earliest place that it can have: after everything that had
 * been answered before it was asked. Since what binds is only who comes before whom, an order exists just where this finds one.
 */
function checkPlaces(
  { terms }: Lot,
  operations: readonly Operation[],
  states: readonly State[],
  aliases: ReadonlyMap<string, string>,
): string[] {
  const asked = [...operations].sort((a, b) => a.began - b.began)
  const answered = operations.map(({ ended }) => ended).sort((a, b) => a - b)
  const placeAt = new Map<Operation, number>()
  const byEnd = [...operations].sort((a, b) => a.ended - b.ended)
  let least = 0
  let done = 0
  for (const one of asked) {
    while (done < answered.length && (answered[done] as number) < one.began) {
      least = Math.max(least, placeAt.get(byEnd[done] as Operation) ?? 0)
      done += 1
    }
    const place = placeOf(one, least)
    if (typeof place === 'string') return [`${one.what.kind} of ${one.bidder}: ${place}`]
    placeAt.set(one, place)
  }
  return []

  function placeOf({ what, bidder, clock }: Operation, from: number): number | string {
    if (what.kind === 'bid' && what.taken) {
      const { sequence } = what.taken
      return sequence > from ? sequence : `it is number ${sequence}, and ${from} had been seen before it was sent`
    }
    if (what.kind === 'read') {
      const state = states[what.bids]
      if (!state) return `it saw ${what.bids} bids, and there are ${states.length - 1}`
      if (what.bids < from) return `it saw ${what.bids} bids, and ${from} had been seen before it was asked`
      const { leader, price } = state.standing
      const isSo = what.standingMinor === (leader === null ? null : price) && what.leader === (leader === null ? null : aliases.get(leader))
      if (!isSo) return `after ${what.bids} bids it saw another price or leader than there was`
      return what.closesAt === state.closesAt
        ? what.bids
        : `after ${what.bids} bids it saw a closing ${what.closesAt - state.closesAt} ms from where it was`
    }
    for (let place = from; place < states.length; place++) {
      const { standing, closesAt } = states[place] as State
      if (what.maximumMinor < leastOf(terms, standing, bidder) || clock[1] >= closesAt) return place
    }
    return 'it was refused, and at no moment while it was under way could it be'
  }
}
