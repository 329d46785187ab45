import { bytesToHex } from '@noble/hashes/utils.js'
import { type Minor, MOST_MINOR, showMoney } from '../kernel/money'
import { openNote } from './checkpoint.rules'
import { isPast } from './closing.rules'
import { type History, historyShape, type Leaf } from './history.contract'
import { commitmentTo, hashOfLeaf, reserveCommitmentTo } from './ledger.rules'
import { append, type Hash, rootOfPeaks } from './merkle.rules'
import { type Maximum, type PriceTerms, priceOf } from './price.rules'
import { apply, hammerOf, type LotFact, type LotState, unopened } from './replay.rules'

export interface Finding {
  holds: boolean
  words: string
}

type BidLeaf = Extract<Leaf, { kind: 'bid' }>
type Revealed = Extract<Leaf, { kind: 'revealed' }>

/**
 * Checks a history without trusting whoever gave it: the tree under every head, the order of things, and, once the
 * maxima are opened, every price, loser, step and closing by playing it all again. Signatures are for the caller, who
 * has the means: see `signedHeads`. Total: anything at all may be handed in.
 */
export function checkHistory(given: unknown): Finding[] {
  const read = historyShape.safeParse(given)
  if (!read.success) {
    const issue = read.error.issues[0]
    return [{ holds: false, words: `This is not a lot's history: ${issue?.path.join('.') || 'the whole'} is not as it should be.` }]
  }
  const history = read.data
  return [checkTree(history), checkOrder(history.leaves), ...checkPrices(history)]
}

/** The notes to verify with the house's key: what was signed, and the signature. */
export const signedHeads = (history: History) => history.heads.flatMap(({ checkpoint }) => openNote(checkpoint) ?? [])

function checkTree({ leaves, heads, origin }: History): Finding {
  const roots = new Map<number, string>()
  let peaks: Hash[] = []
  for (const [size, leaf] of leaves.entries()) {
    peaks = append(peaks, size, hashOfLeaf(leaf))
    roots.set(size + 1, bytesToHex(rootOfPeaks(peaks)))
  }
  let before = 0
  for (const { size, checkpoint } of heads) {
    const note = openNote(checkpoint)
    if (!note || note.head.origin !== origin || note.head.size !== size)
      return broken(`The head at ${size} entries is not a checkpoint of this lot.`)
    if (size <= before) return broken('The heads are not in the order in which they grew.')
    if (roots.get(size) !== bytesToHex(note.head.root))
      return broken(`The entries do not lead to the head that was signed at ${size} entries: one of them was changed.`)
    before = size
  }
  if (before !== leaves.length) return broken(`${leaves.length} entries are shown, the last signed head covers ${before}.`)
  return { holds: true, words: `All ${leaves.length} entries lead to the heads that were signed.` }
}

function checkOrder(leaves: readonly Leaf[]): Finding {
  let [last, sequence, isHeld, isOver, closesAt, standing] = ['', 0, false, false, '', 0]
  for (const [index, leaf] of leaves.entries()) {
    const place = `Entry ${index + 1} (${leaf.kind})`
    if ((index === 0) !== (leaf.kind === 'opened')) return broken(`${place}: a history begins with its opening, and only once.`)
    if (leaf.kind !== 'closed' && leaf.at < last) return broken(`${place} is earlier than the one before it.`)
    if (isOver && leaf.kind !== 'revealed') return broken(`${place} stands after the end of the lot.`)
    if (leaf.kind === 'bid') {
      sequence += 1
      if (leaf.sequence !== sequence) return broken(`${place} carries number ${leaf.sequence} where ${sequence} is due.`)
      if (isHeld) return broken(`${place} was taken while the clocks stood.`)
      if (isPast(Date.parse(closesAt), Date.parse(leaf.at))) return broken(`${place} was taken at or after the closing.`)
      if ((leaf.standingMinor ?? 0) < standing) return broken(`${place}: the standing bid fell without a void.`)
    }
    if (leaf.kind === 'held' || leaf.kind === 'resumed') isHeld = leaf.kind === 'held'
    if (leaf.kind === 'closed' || leaf.kind === 'withdrawn') isOver = true
    if (leaf.kind === 'bid' || leaf.kind === 'voided') standing = leaf.standingMinor ?? 0
    if ('closesAt' in leaf) {
      if (leaf.closesAt < closesAt) return broken(`${place} moved the closing earlier.`)
      closesAt = leaf.closesAt
    }
    if (leaf.kind === 'closed' && leaf.at !== closesAt) return broken(`${place} is not at the closing that was announced.`)
    if (leaf.at > last) last = leaf.at
  }
  return { holds: true, words: 'The order of arrival is whole: no bid is missing a number, none was taken late or on hold.' }
}

function checkPrices({ lot, currency, leaves }: History): Finding[] {
  const opened = leaves[0]
  const revealed = leaves.find((leaf): leaf is Revealed => leaf.kind === 'revealed')
  const bids = leaves.filter((leaf): leaf is BidLeaf => leaf.kind === 'bid')
  if (opened?.kind !== 'opened') return [broken('There is no opening, so no price can be worked out.')]
  if (!revealed) return [{ holds: true, words: 'The maxima are still sealed; the price path can be worked out once the lot has ended.' }]
  const maxima = new Map(revealed.openings.map((one) => [one.sequence, one]))
  for (const bid of bids) {
    const one = maxima.get(bid.sequence)
    if (!one && bid.sequence === revealed.sealed) continue
    if (!one) return [broken(`Bid ${bid.sequence} was not opened.`)]
    if (commitmentTo({ lot, ...one }) !== bid.commitment || one.alias !== bid.alias)
      return [broken(`Bid ${bid.sequence} was opened with another amount than it was made with.`)]
  }
  const { reserve } = revealed
  if ((reserve === null) !== (opened.reserveCommitment === null)) return [broken('The reserve was not opened.')]
  if (reserve && reserveCommitmentTo(lot, reserve.amountMinor, reserve.nonce) !== opened.reserveCommitment)
    return [broken('The reserve is not the one that was fixed at the opening.')]
  const terms: PriceTerms = {
    currency,
    openingMinor: opened.terms.openingMinor,
    reserveMinor: reserve?.amountMinor ?? null,
    ladder: opened.terms.ladder,
  }
  const maximumOf = (bid: BidLeaf) => maxima.get(bid.sequence)?.amountMinor ?? sealedMaximum(bid, leaves)
  const wrong = playAgain(terms, leaves, maximumOf)
  if (wrong) return [broken(wrong)]
  const sealed =
    revealed.sealed === null
      ? ''
      : ` Bid ${revealed.sealed}, the winner's last, stays sealed: that it covers the price only its owner can show.`
  return [
    { holds: true, words: `${maxima.size} of ${bids.length} maxima are open and match what was committed to.${sealed}` },
    {
      holds: true,
      words: reserve ? `The reserve was ${showMoney(reserve.amountMinor, currency)}, as fixed at the opening.` : 'There was no reserve.',
    },
    { holds: true, words: 'Played again from the start, every price, leader and closing comes out the same.' },
  ]
}

/** A maximum that stays closed covers every price; where a price was capped by it, it was that price. */
function sealedMaximum({ alias, sequence }: BidLeaf, leaves: readonly Leaf[]): Minor {
  const from = leaves.findIndex((leaf) => leaf.kind === 'bid' && leaf.sequence === sequence)
  const capped = leaves
    .slice(from)
    .find((leaf) => (leaf.kind === 'bid' || leaf.kind === 'voided') && leaf.leader === alias && leaf.why === 'cap')
  return capped && 'standingMinor' in capped ? (capped.standingMinor ?? MOST_MINOR) : MOST_MINOR
}

/** Plays the facts again and compares; the first entry that comes out otherwise, in words, or null. */
function playAgain(terms: PriceTerms, leaves: readonly Leaf[], maximumOf: (bid: BidLeaf) => Minor): string | null {
  let state: LotState = unopened(terms)
  let arrivals: Maximum[] = []
  let isExtensionDue = false
  for (const [index, leaf] of leaves.entries()) {
    const place = `Entry ${index + 1} (${leaf.kind})`
    const isByRule = leaf.kind === 'extended' && leaf.by === 'rule'
    if (isExtensionDue !== isByRule)
      return isExtensionDue ? `${place}: the extension by the bid before it is missing.` : `${place}: no bid called for this extension.`
    const fact = factOf(leaf, maximumOf)
    const before = state
    if (fact?.kind === 'bid') arrivals.push(fact)
    if (fact) state = apply(state, fact, arrivals)
    if (fact?.kind === 'voided') arrivals = arrivals.filter(({ bidder }) => bidder !== fact.bidder)
    isExtensionDue = leaf.kind === 'bid' && state.extensions > before.extensions
    if ('closesAt' in leaf && Date.parse(leaf.closesAt) !== state.closesAt) return `${place}: by the rule the closing would be another.`
    if ('why' in leaf) {
      const price = priceOf(terms, state)
      if ((price?.priceMinor ?? null) !== leaf.standingMinor || (price?.why ?? null) !== leaf.why)
        return `${place}: by the rule the standing bid would be another.`
      if ((state.leader?.bidder ?? null) !== leaf.leader) return `${place}: by the rule somebody else would lead.`
    }
    if (leaf.kind === 'closed') {
      const hammer = hammerOf(terms, state)
      if (hammer !== leaf.hammerMinor || (state.leader?.bidder ?? null) !== leaf.leader || state.phase !== leaf.result)
        return `${place}: by the rule the result would be another.`
    }
  }
  return null
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
    case 'closed':
      return { kind: 'closed', at }
    case 'corrected':
      return { kind: 'corrected', at, words: leaf.words }
    case 'revealed':
      return null
  }
}

const broken = (words: string): Finding => ({ holds: false, words })
