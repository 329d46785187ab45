import { groupBy } from '#kernel/group'
import { type Maximum, pairOf } from '../price/price.rules'

/** What the patterns are read from: everything by the house's own names, put into words elsewhere. */
export interface PatternFacts {
  traces: readonly { personId: string; lot: number; kind: 'address' | 'device'; hash: string }[]
  bids: readonly { personId: string; lot: number; sequence: number; maximumMinor: number }[]
  retractions: readonly { personId: string; lot: number; reason: string }[]
  connected: readonly { personId: string; lot: number | null; kind: 'household' | 'worked'; words: string }[]
}

export interface Found {
  kind: 'address' | 'device' | 'retractions' | 'pushing' | 'connected'
  people: string[]
  evidence: { lot: number; bids: number; words: string }[]
}

/** From so many lots on it deserves a look that one bidder only ever pushed one other (common practice). */
const PUSHED_LOTS = 2

/** All that deserves a look, the gravest kinds first. Each can have an innocent reason, so nothing follows from it by itself. */
export const patternsIn = (facts: PatternFacts): Found[] => [
  ...connectedIn(facts),
  ...pushingIn(facts),
  ...sharedIn(facts, 'device'),
  ...sharedIn(facts, 'address'),
  ...retractionsIn(facts),
]

/** Two or more accounts behind one address or one browser, with every lot on which more than one of them bid. */
function sharedIn({ traces, bids }: PatternFacts, kind: 'address' | 'device'): Found[] {
  const hashes = groupBy(
    traces.filter((trace) => trace.kind === kind),
    ({ hash }) => hash,
  )
  const found = new Map<string, Found>()
  for (const group of hashes.values()) {
    const people = [...new Set(group.map(({ personId }) => personId))].sort()
    if (people.length < 2) continue
    const lots = [...new Set(bids.filter(({ personId }) => people.includes(personId)).map(({ lot }) => lot))].sort((a, b) => a - b)
    const evidence = lots.flatMap((lot) => {
      const here = bids.filter((bid) => bid.lot === lot && people.includes(bid.personId))
      const who = new Set(here.map(({ personId }) => personId)).size
      return who < 2 ? [] : [{ lot, bids: here.length, words: `${who} of them bid on it.` }]
    })
    found.set(people.join(), { kind, people, evidence })
  }
  return [...found.values()]
}

function retractionsIn({ retractions, bids }: PatternFacts): Found[] {
  return [...groupBy(retractions, ({ personId }) => personId)].map(([person, asked]) => ({
    kind: 'retractions',
    people: [person],
    evidence: asked.map(({ lot, reason }) => ({
      lot,
      bids: bids.filter((bid) => bid.lot === lot && bid.personId === person).length,
      words: reason,
    })),
  }))
}

/** A bidder who leads nowhere and whose bids set the price for one and the same other on lot after lot. */
function pushingIn({ bids }: PatternFacts): Found[] {
  const ends = [...groupBy(bids, ({ lot }) => lot)].map(([lot, here]) => {
    const pair = pairOf(here.map(({ personId: bidder, maximumMinor, sequence }): Maximum => ({ bidder, maximumMinor, sequence })))
    return { lot, leader: pair.leader?.bidder ?? null, second: pair.second?.bidder ?? null, here }
  })
  const leaders = new Set(ends.map(({ leader }) => leader))
  const pushes = ends.filter(({ leader, second }) => leader !== null && second !== null && !leaders.has(second))
  return [...groupBy(pushes, ({ leader, second }) => `${second} ${leader}`).values()].flatMap((together): Found[] => {
    const [first] = together
    if (!first?.second || !first.leader || together.length < PUSHED_LOTS) return []
    const { second, leader } = first
    const bidOn = new Set(bids.filter(({ personId }) => personId === second).map(({ lot }) => lot)).size
    if (bidOn > together.length) return []
    const evidence = together.map(({ lot, here }) => {
      const own = here.filter(({ personId }) => personId === second).length
      return { lot, bids: own, words: `${own === 1 ? 'One bid' : `${own} bids`}, and the price that the other pays.` }
    })
    return [{ kind: 'pushing', people: [second, leader], evidence }]
  })
}

/** Somebody who bid and also said that they are connected: with that lot, or with the sale as a whole. */
function connectedIn({ connected, bids }: PatternFacts): Found[] {
  return connected.flatMap(({ personId, lot, kind, words }): Found[] => {
    const here = bids.filter((bid) => bid.personId === personId && (lot === null || bid.lot === lot))
    if (here.length === 0) return []
    const how = kind === 'household' ? 'Lives or works with the staff' : 'Had a hand in it'
    const evidence = [...groupBy(here, (bid) => bid.lot)].map(([one, said]) => ({
      lot: one,
      bids: said.length,
      words: `${how}: ${words}`,
    }))
    return [{ kind: 'connected', people: [personId], evidence }]
  })
}
