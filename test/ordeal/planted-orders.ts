import type { Chance } from '#kernel/seeded'
import { leastNext, type PriceTerms, priceOf } from '#sale/price/price.rules'
import { makeLot } from '#test/make/lot-history'
import type { Lot, Operation } from './order'
import { between, pick } from './trial'

const BIDDERS = ['Ada', 'Ben', 'Cai', 'Dot']
const EACH_MS = 4_000

/** What several clients may have seen of a lot that keeps its rules: each operation happens at one moment somewhere in its time. */
export function soundOrder(chance: Chance, terms: PriceTerms, count = 60): { lot: Lot; operations: Operation[] } {
  const closesAt = count * EACH_MS * 0.6
  const lot = makeLot({ terms, closesAt })
  const operations: Operation[] = []
  for (let place = 1; place <= count; place++) {
    const now = place * EACH_MS
    const bidder = pick(chance, BIDDERS)
    const standing = priceOf(terms, lot.state)?.priceMinor ?? null
    const frame = {
      kind: 'read',
      bids: lot.state.bids,
      standingMinor: standing,
      leader: lot.state.leader ? `alias of ${lot.state.leader.bidder}` : null,
      closesAt: lot.state.closesAt ?? 0,
    } as const
    const around = {
      bidder,
      began: place * 10 - between(chance, 0, 19),
      ended: place * 10 + between(chance, 1, 19),
      clock: [now - 1_000, now + 1_000],
    } as const
    if (place % 4 === 0) {
      operations.push({ ...around, what: frame })
      continue
    }
    const maximumMinor = leastNext(terms, standing) + between(chance, -3, 30) * 100
    const refused = lot.bid(bidder, maximumMinor, now)
    const { state } = lot
    const told = {
      sequence: state.bids,
      at: now,
      alias: `alias of ${bidder}`,
      leads: state.leader?.bidder === bidder,
      standingMinor: priceOf(terms, state)?.priceMinor ?? 0,
      closesAt: state.closesAt ?? 0,
    }
    operations.push({ ...around, what: { kind: 'bid', maximumMinor, taken: refused === null ? told : null } })
  }
  return { lot: { terms, closesAt }, operations }
}

type Change = (operations: Operation[]) => void
const bidsOf = (all: Operation[]) => all.flatMap((one) => (one.what.kind === 'bid' ? [{ one, bid: one.what }] : []))
const takenOf = (all: Operation[]) =>
  bidsOf(all)
    .flatMap(({ one, bid }) => (bid.taken ? [{ one, bid, told: bid.taken }] : []))
    .sort((a, b) => a.told.sequence - b.told.sequence)
const readsOf = (all: Operation[]) => all.flatMap((one) => (one.what.kind === 'read' ? [{ one, read: one.what }] : []))
const middle = <T>(all: readonly T[]): T => all[Math.floor(all.length / 2)] as T
const told = (all: Operation[]) => middle(takenOf(all)).told
const read = (all: Operation[]) => middle(readsOf(all).filter(({ read }) => read.bids > 1)).read

/** Mistakes that a house could make, planted into what its clients saw. Each has to be found. */
export const PLANTED: Readonly<Record<string, Change>> = {
  'a bid that was taken is lost': (all) => void all.splice(all.indexOf(middle(takenOf(all)).one), 1),
  'two bids have one number': (all) => {
    told(all).sequence += 1
  },
  'a bid is there twice': (all) => void all.push({ ...middle(takenOf(all)).one }),
  'a bid was told a higher price': (all) => {
    told(all).standingMinor += 100
  },
  'a bid was told a lower price': (all) => {
    told(all).standingMinor -= 1
  },
  'a bid was told that another leads, or that it does': (all) => {
    told(all).leads = !told(all).leads
  },
  'a bid was told an earlier closing': (all) => {
    told(all).closesAt -= 1
  },
  'a bid was told a later closing': (all) => {
    told(all).closesAt += 120_000
  },
  'a bid was stamped after it was answered': (all) => {
    told(all).at += 60_000
  },
  'a bid was stamped before the one before it': (all) => {
    const one = middle(takenOf(all))
    one.told.at -= 30 * EACH_MS
    one.one.clock = [0, one.one.clock[1]]
  },
  'a bid came at the closing and was taken': (all) => {
    const last = takenOf(all).at(-1)
    if (!last) return
    last.told.at = last.told.closesAt + 1
    last.one.clock = [0, Number.MAX_SAFE_INTEGER]
  },
  'a bidder has another alias than before': (all) => {
    const { bidder } = (takenOf(all)[0] as { one: Operation }).one
    const later = takenOf(all).findLast(({ one }) => one.bidder === bidder)
    if (later) later.told.alias = 'alias of nobody'
  },
  'two bidders have one alias': (all) => {
    const first = takenOf(all)[0]
    const other = takenOf(all).find(({ one }) => one.bidder !== first?.one.bidder)
    for (const one of takenOf(all)) if (one.one.bidder === other?.one.bidder) one.told.alias = first?.told.alias ?? ''
  },
  'a bid that was high enough is refused': (all) => {
    const last = takenOf(all).at(-1)
    if (!last) return
    last.bid.taken = null
    last.bid.maximumMinor += 1_000_000
    last.one.clock = [0, 0]
  },
  'a bid that was too low is taken': (all) => {
    middle(takenOf(all)).bid.maximumMinor = 1
  },
  'a later bid came first though the earlier was answered before it was sent': (all) => {
    const [first, second] = takenOf(all)
    if (!first || !second) return
    Object.assign(second.one, { began: -2_000, ended: -1_900 })
    Object.assign(first.one, { began: -1_000, ended: 1_000 })
  },
  'a reader saw fewer bids than had been answered': (all) => {
    const { one } = middle(readsOf(all).filter(({ read }) => read.bids < takenOf(all).length))
    Object.assign(one, { began: 100_000, ended: 100_001 })
  },
  'a reader saw a bid that was not sent yet': (all) => {
    const { one } = middle(readsOf(all).filter(({ read }) => read.bids > 2))
    Object.assign(one, { began: -100_001, ended: -100_000 })
  },
  'a reader saw another price than there was': (all) => {
    read(all).standingMinor = (read(all).standingMinor ?? 0) + 1
  },
  'a reader saw another leader than there was': (all) => {
    read(all).leader = 'alias of nobody'
  },
}

/** A copy of a record with one mistake in it. */
export function withMistake(operations: readonly Operation[], change: Change): Operation[] {
  const copy = structuredClone(operations) as Operation[]
  change(copy)
  return copy
}
