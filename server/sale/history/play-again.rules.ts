import { type Minor, MOST_MINOR } from '#kernel/money'
import { hammerOf, type Maximum, type PriceTerms, priceOf } from '../price/price.rules'
import { decide, type LotCommand } from './decide.rules'
import type { Leaf } from './history.contract'
import { apply, type LotFact, type LotState, unopened } from './replay.rules'
import type { BidLeaf } from './sealed-maximum.rules'

/** Plays the facts again, asks the rule of each whether it might be, and compares; the first that comes out otherwise, in words, or null. */
export function playAgain(terms: PriceTerms, leaves: readonly Leaf[], maximumOf: (bid: BidLeaf) => Minor): string | null {
  let state: LotState = unopened(terms)
  let arrivals: Maximum[] = []
  let isExtensionDue = false
  for (const [index, leaf] of leaves.entries()) {
    const place = `Entry ${index + 1} (${leaf.kind})`
    const isByRule = leaf.kind === 'extended' && leaf.by === 'rule'
    if (isExtensionDue !== isByRule)
      return isExtensionDue ? `${place}: the extension by the bid before it is missing.` : `${place}: no bid called for this extension.`
    if (isByRule && leaf.at !== leaves[index - 1]?.at) return `${place}: the rule extends at the instant of the bid.`
    const fact = factOf(leaf, maximumOf)
    const before = state
    if (fact) {
      const command = commandOf(fact)
      const decision = command && decide(state, command, fact.at)
      if (decision && !decision.yes) return `${place}: by the rule it would have been refused.`
      if (fact.kind === 'bid') arrivals.push(fact)
      state = apply(state, fact, arrivals)
      if (fact.kind === 'voided') arrivals = arrivals.filter(({ bidder }) => bidder !== fact.bidder)
    }
    isExtensionDue = leaf.kind === 'bid' && state.extensions > before.extensions
    const other = differenceAt(leaf, state)
    if (other) return `${place}: ${other}`
  }
  return isExtensionDue ? 'The extension by the last bid is missing.' : null
}

/** In what an entry differs from the state that the rule comes to, in words; null when it does not. */
function differenceAt(leaf: Leaf, state: LotState): string | null {
  if ('closesAt' in leaf && Date.parse(leaf.closesAt) !== state.closesAt) return 'by the rule the closing would be another.'
  if ('why' in leaf) {
    const price = priceOf(state.terms, state)
    if ((price?.priceMinor ?? null) !== leaf.standingMinor || (price?.why ?? null) !== leaf.why)
      return 'by the rule the standing bid would be another.'
    if ((state.leader?.bidder ?? null) !== leaf.leader) return 'by the rule somebody else would lead.'
  }
  if (leaf.kind === 'closed') {
    const hammer = hammerOf(state.terms, state)
    if (hammer !== leaf.hammerMinor || (state.leader?.bidder ?? null) !== leaf.leader || state.phase !== leaf.result)
      return 'by the rule the result would be another.'
  }
  if (leaf.kind === 'revealed') {
    const sealed = state.phase === 'sold' ? (state.leader?.sequence ?? null) : null
    if (sealed !== leaf.sealed) return 'only the winner’s last maximum stays sealed.'
  }
  return null
}

/** The command that led to a fact, as it must have been given; null for the opening, which is not decided here. */
function commandOf(fact: LotFact): LotCommand | null {
  switch (fact.kind) {
    case 'opened':
      return null
    case 'bid':
      return {
        kind: 'bid',
        bidder: fact.bidder,
        maximumMinor: fact.maximumMinor,
        ceilingMinor: MOST_MINOR,
        sequence: fact.sequence,
        stands: true,
      }
    case 'extended':
      return { kind: 'extend', closesAt: fact.closesAt, reason: fact.reason }
    case 'held':
      return { kind: 'hold', reason: fact.reason }
    case 'resumed':
      return { kind: 'resume', shiftMs: fact.shiftMs }
    case 'outage':
      return { kind: 'outage', from: fact.from, to: fact.to, shiftMs: fact.shiftMs }
    case 'voided':
      return { kind: 'void', bidder: fact.bidder, reason: fact.reason }
    case 'corrected':
      return { kind: 'correct', words: fact.words }
    case 'withdrawn':
      return { kind: 'withdraw', reason: fact.reason }
    case 'closed':
      return { kind: 'close' }
  }
}

/** What an entry says happened; null for those that move nothing. */
export function factOf(leaf: Leaf, maximumOf: (bid: BidLeaf) => Minor): LotFact | null {
  const at = Date.parse(leaf.at)
  switch (leaf.kind) {
    case 'opened':
      return { kind: 'opened', at, closesAt: Date.parse(leaf.closesAt) }
    case 'bid':
      return { kind: 'bid', at, sequence: leaf.sequence, bidder: leaf.alias, maximumMinor: maximumOf(leaf) }
    case 'extended':
      return leaf.by === 'rule' ? null : { kind: 'extended', at, closesAt: Date.parse(leaf.closesAt), reason: leaf.reason }
    case 'resumed':
      return { kind: 'resumed', at, shiftMs: leaf.shiftMs }
    case 'outage':
      return { kind: 'outage', at, from: Date.parse(leaf.from), to: Date.parse(leaf.to), shiftMs: leaf.shiftMs }
    case 'voided':
      return { kind: 'voided', at, bidder: leaf.alias, reason: leaf.reason }
    case 'held':
    case 'withdrawn':
      return { kind: leaf.kind, at, reason: leaf.reason }
    case 'corrected':
      return { kind: 'corrected', at, words: leaf.words }
    case 'closed':
      return { kind: 'closed', at }
    case 'revealed':
      return null
  }
}
