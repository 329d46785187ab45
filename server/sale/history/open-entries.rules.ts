import type { Instant } from '#kernel/instant'
import type { Minor } from '#kernel/money'
import { afterVoid, leavesEnough } from '../price/closing.rules'
import { isLadder, mostUnder, stepAt } from '../price/ladder.rules'
import { afterLateBid, lateBidOf } from '../price/late-bid.rules'
import type { Leaf, OpenTerms } from './history.contract'
import type { BidLeaf } from './sealed-maximum.rules'

type Standing = Pick<BidLeaf, 'standingMinor' | 'leader' | 'why' | 'closesAt'>

/** What everybody can work out of a lot while its maxima are sealed. */
interface Seen {
  terms: OpenTerms
  /** Aliases with a bid that counts. */
  counting: ReadonlySet<string>
  standingMinor: Minor | null
  leader: string | null
  why: Standing['why']
  /** The price at which the reserve made it, once it has: there is one reserve. */
  reserveMinor: Minor | null
  closesAt: Instant
  heldSince: Instant | null
  /** The bid just before moved the closing, so the entry that says so is due. */
  isExtensionDue: boolean
}

/**
 * What the entries alone suffice for while no maximum is open: whether each price, leader, reason and closing can follow from
 * what stands before it, whatever the maxima are. The first that cannot, in words, or null.
 */
export function faultInOpen(leaves: readonly Leaf[]): string | null {
  const [opened] = leaves
  if (opened?.kind !== 'opened') return 'A history begins with its opening.'
  if (!isLadder(opened.terms.ladder)) return 'The ladder that was fixed at the opening is none.'
  let seen: Seen = {
    terms: opened.terms,
    counting: new Set(),
    standingMinor: null,
    leader: null,
    why: null,
    reserveMinor: null,
    closesAt: Date.parse(opened.closesAt),
    heldSince: null,
    isExtensionDue: false,
  }
  for (const [index, leaf] of leaves.entries()) {
    const fault = faultIn(leaf, seen, leaves[index - 1])
    if (fault) return `Entry ${index + 1} (${leaf.kind}): ${fault}`
    const next = after(seen, leaf)
    seen = { ...next, isExtensionDue: leaf.kind === 'bid' && next.closesAt !== seen.closesAt }
    if ('closesAt' in leaf && Date.parse(leaf.closesAt) !== seen.closesAt)
      return `Entry ${index + 1} (${leaf.kind}): by the rule the closing would be another.`
  }
  return seen.isExtensionDue ? 'The extension by the last bid is missing.' : null
}

function faultIn(leaf: Leaf, seen: Seen, before: Leaf | undefined): string | null {
  const isByRule = leaf.kind === 'extended' && leaf.by === 'rule'
  if (isByRule !== seen.isExtensionDue)
    return isByRule ? 'no bid called for this extension.' : 'the extension by the bid before it is missing.'
  if (isByRule) return leaf.at === before?.at ? null : 'the rule extends at the instant of the bid.'
  switch (leaf.kind) {
    case 'bid':
      return faultInBid(leaf, seen) ?? faultInStanding(leaf, { ...seen, counting: withAlias(seen.counting, leaf.alias) })
    case 'voided':
      return faultInStanding(leaf, { ...seen, counting: new Set([...seen.counting].filter((alias) => alias !== leaf.alias)) })
    case 'extended':
      return Date.parse(leaf.closesAt) > seen.closesAt ? null : 'a closing is never moved earlier, nor to where it is.'
    case 'resumed':
      return isEnough(leaf.shiftMs, seen, seen.heldSince ?? 0, Date.parse(leaf.at)) ? null : 'the clock went on with too little time.'
    case 'outage':
      return isEnough(leaf.shiftMs, seen, Date.parse(leaf.from), Date.parse(leaf.to)) ? null : 'after the outage too little time was left.'
    default:
      return null
  }
}

const isEnough = (shiftMs: number, { closesAt }: Seen, since: Instant, now: Instant): boolean =>
  leavesEnough(closesAt, since, now, closesAt + shiftMs)

/** What a bid can do to price and leader, whatever its maximum is. */
function faultInBid(leaf: BidLeaf, { terms, leader, standingMinor, why }: Seen): string | null {
  const standing = leaf.standingMinor ?? 0
  if (leaf.leader !== leaf.alias && leaf.leader !== leader) return 'only who led before or who bids can lead after a bid.'
  if (leader !== leaf.alias) {
    const least = standingMinor === null ? terms.openingMinor : standingMinor + stepAt(terms.ladder, standingMinor)
    return standing < least ? 'a bid of somebody else raises the standing bid by a step at least.' : null
  }
  if (why === 'cap')
    return standing > (standingMinor ?? 0) ? null : 'a leader who raises what was their whole maximum raises the standing bid.'
  const isReached = leaf.why === 'reserve' && why !== 'reserve' && standing > (standingMinor ?? 0)
  return isReached || (standing === standingMinor && leaf.why === why)
    ? null
    : 'a leader who raises their own maximum does not bid against themselves.'
}

/** Whether a price can be what it is for the reason that is given, with so many bidders and these terms. */
function faultInStanding({ standingMinor, leader, why }: Standing, { terms, counting, reserveMinor }: Seen): string | null {
  if (counting.size === 0) return standingMinor === null && leader === null && why === null ? null : 'without a bid nothing stands.'
  if (standingMinor === null || leader === null || why === null) return 'with a bid something stands, and somebody leads.'
  if (!counting.has(leader)) return 'who leads has no bid that counts.'
  if (standingMinor < terms.openingMinor) return 'the standing bid is under the opening price.'
  const isAlone = counting.size === 1
  if (isAlone && (why === 'second' || why === 'cap')) return `“${why}” takes a second bidder, and there is one alone.`
  if (why === 'opening' && (!isAlone || standingMinor !== terms.openingMinor))
    return '“opening” is the opening price, while there is one bidder alone.'
  if (why === 'second') {
    const second = mostUnder(terms.ladder, standingMinor)
    if (second < terms.openingMinor || second + stepAt(terms.ladder, second) !== standingMinor)
      return 'no bid that the rule takes has its step at this price.'
  }
  if (why !== 'reserve') return null
  if (!terms.hasReserve) return '“reserve” takes a reserve, and there is none.'
  return standingMinor === terms.openingMinor || standingMinor !== (reserveMinor ?? standingMinor)
    ? 'there is one reserve, above the opening price.'
    : null
}

function after(seen: Seen, leaf: Leaf): Seen {
  const at = Date.parse(leaf.at)
  switch (leaf.kind) {
    case 'bid': {
      const mattered = leaf.leader !== seen.leader || leaf.standingMinor !== seen.standingMinor
      const closesAt = mattered ? afterLateBid(seen.closesAt, at, lateBidOf(seen.terms)) : seen.closesAt
      return { ...seen, ...standingOf(leaf, seen), counting: withAlias(seen.counting, leaf.alias), closesAt }
    }
    case 'voided': {
      const counting = new Set([...seen.counting].filter((alias) => alias !== leaf.alias))
      const closesAt = afterVoid(seen.closesAt, seen.heldSince ?? at)
      return { ...seen, ...standingOf(leaf, seen), counting, closesAt }
    }
    case 'extended':
      return leaf.by === 'rule' ? seen : { ...seen, closesAt: Date.parse(leaf.closesAt) }
    case 'held':
      return { ...seen, heldSince: at }
    case 'resumed':
      return { ...seen, heldSince: null, closesAt: seen.closesAt + leaf.shiftMs }
    case 'outage':
      return { ...seen, closesAt: seen.closesAt + leaf.shiftMs }
    default:
      return seen
  }
}

/** Most bids are by somebody who has bid before: the aliases are copied for a new one alone. */
const withAlias = (counting: ReadonlySet<string>, alias: string): ReadonlySet<string> =>
  counting.has(alias) ? counting : new Set([...counting, alias])

const standingOf = ({ standingMinor, leader, why }: Standing, { reserveMinor }: Seen) => ({
  standingMinor,
  leader,
  why,
  reserveMinor: why === 'reserve' ? standingMinor : reserveMinor,
})
