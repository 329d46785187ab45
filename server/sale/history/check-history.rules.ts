import { bytesToHex } from '@noble/hashes/utils.js'
import canonicalize from 'canonicalize'
import { MOST_MINOR, showMoney } from '#kernel/money'
import { isLadder } from '../price/ladder.rules'
import type { PriceTerms } from '../price/price.rules'
import { checkOrder } from './check-order.rules'
import { openNote } from './checkpoint.rules'
import { broken, type Finding } from './finding.rules'
import { type History, historyShape, type Leaf, type Opening } from './history.contract'
import { commitmentTo, hashOfLeaf, reserveCommitmentTo } from './ledger.rules'
import { append, type Hash, rootOfPeaks } from './merkle.rules'
import { faultInOpen } from './open-entries.rules'
import { playAgain } from './play-again.rules'
import { type BidLeaf, sealedMaximum } from './sealed-maximum.rules'

export type { Finding } from './finding.rules'

type Revealed = Extract<Leaf, { kind: 'revealed' }>

/**
 * Checks a history without trusting whoever gave it: what it says of itself, the tree under every head, the order of
 * things, and, once the maxima are opened, every price, loser, step and closing by playing it all again. Signatures
 * are for the caller, who has the means: see `signedHeads`. Total: anything at all may be handed in.
 *
 * `own` are maxima that the receipts of a bidder open: where the sealed one is among them, it is played with as it was.
 */
export function checkHistory(given: unknown, own: readonly Opening[] = []): Finding[] {
  const read = historyShape.safeParse(given)
  if (!read.success) {
    const issue = read.error.issues[0]
    return [{ isSound: false, words: `This is not a lot's history: ${issue?.path.join('.') || 'the whole'} is not as it should be.` }]
  }
  const history = read.data
  const about = history.leaves[0]?.kind === 'opened' ? faultAround(history) : 'A history begins with its opening.'
  return about ? [broken(about)] : [checkTree(history), checkOrder(history.leaves), ...checkPrices(history, own)]
}

/** The notes to verify with the house's key: what was signed, and the signature. */
export const signedHeads = (history: History) => history.heads.flatMap(({ checkpoint }) => openNote(checkpoint) ?? [])

/** The host under which the heads of a history are signed. */
const hostOf = (origin: string): string => origin.slice(0, Math.max(0, origin.indexOf('/')))

/** What stands around the entries is no more than a repetition of them. Nobody signs it, so where it differs the file was changed. */
export function faultAround({ lot, title, unit, currency, origin, links, state, leaves }: History): string | null {
  const [first] = leaves
  if (first?.kind !== 'opened') return null
  const { sale } = first.terms
  if (title !== sale.title || unit !== sale.unit || currency !== first.terms.currency)
    return 'Title, machine or currency is not the one that was fixed at the opening.'
  if (origin !== `${hostOf(origin)}/lots/${lot}` || hostOf(origin) === '') return 'The history is not of the lot whose number it carries.'
  const own = { lot: `/lots/${lot}`, page: `/lots/${lot}/history`, keys: '/.well-known/jwks.json' }
  if (canonicalize(links) !== canonicalize(own)) return 'Its links are not those of this lot.'
  return stateOf(leaves) === state ? null : 'The state it claims is not what its entries lead to.'
}

function stateOf(leaves: readonly Leaf[]): string {
  const last = leaves.findLast(({ kind }) => kind === 'closed' || kind === 'withdrawn' || kind === 'held' || kind === 'resumed')
  if (last?.kind === 'closed') return last.result
  return last?.kind === 'withdrawn' ? 'withdrawn' : last?.kind === 'held' ? 'held' : 'open'
}

/** Entries that one command wrote together have one head. */
const isSameCommand = (leaf: Leaf, next: Leaf | undefined): boolean =>
  next?.kind === 'revealed' || (leaf.kind === 'bid' && next?.kind === 'extended' && next.by === 'rule')

/** Whether the entries lead to the heads that were signed. */
export function checkTree({ leaves, heads, origin }: History): Finding {
  const roots = new Map<number, string>()
  let peaks: Hash[] = []
  for (const [size, leaf] of leaves.entries()) {
    peaks = append(peaks, size, hashOfLeaf(leaf))
    if (!isSameCommand(leaf, leaves[size + 1])) roots.set(size + 1, bytesToHex(rootOfPeaks(peaks)))
  }
  let before = 0
  for (const { size, checkpoint } of heads) {
    const note = openNote(checkpoint)
    if (!note || note.head.origin !== origin || note.head.size !== size || note.name !== hostOf(origin))
      return broken(`The head at ${size} entries is not a checkpoint of this lot.`)
    if (size <= before) return broken('The heads are not in the order in which they grew.')
    if (roots.get(size) !== bytesToHex(note.head.root))
      return broken(`The entries do not lead to the head that was signed at ${size} entries: one of them was changed.`)
    before = size
  }
  if (before !== leaves.length) return broken(`${leaves.length} entries are shown, the last signed head covers ${before}.`)
  if (heads.length !== roots.size) return broken('A signed head was left out: there is one after every command.')
  return { isSound: true, words: `All ${leaves.length} entries lead to the heads that were signed.` }
}

function checkPrices({ lot, currency, leaves }: History, own: readonly Opening[]): Finding[] {
  const opened = leaves[0]
  const revealed = leaves.find((leaf): leaf is Revealed => leaf.kind === 'revealed')
  const bids = leaves.filter((leaf): leaf is BidLeaf => leaf.kind === 'bid')
  if (opened?.kind !== 'opened') return [broken('There is no opening, so no price can be worked out.')]
  if (!revealed) {
    const fault = faultInOpen(leaves)
    if (fault) return [broken(fault)]
    const soFar = 'Every price, leader and closing so far is one that can follow from the entries before it.'
    return [{ isSound: true, words: `${soFar} The maxima are still sealed; the price path can be worked out once the lot has ended.` }]
  }
  const maxima = new Map(revealed.openings.map((one) => [one.sequence, one]))
  for (const bid of bids) {
    const one = maxima.get(bid.sequence)
    if (!one && bid.sequence === revealed.sealed) continue
    if (!one) return [broken(`Bid ${bid.sequence} was not opened.`)]
    if (commitmentTo({ lot, ...one }) !== bid.commitment || one.alias !== bid.alias)
      return [broken(`Bid ${bid.sequence} was opened with another amount than it was made with.`)]
  }
  const { reserve } = revealed
  if (revealed.openings.length !== bids.length - (revealed.sealed === null ? 0 : 1) || maxima.size !== revealed.openings.length)
    return [broken('Every bid is opened once, but for the sealed one.')]
  if (revealed.openings.some(({ sequence }, index) => sequence <= (revealed.openings[index - 1]?.sequence ?? 0)))
    return [broken('The maxima are not opened in the order in which they were bid.')]
  if ((reserve === null) !== (opened.reserveCommitment === null) || opened.terms.hasReserve !== (reserve !== null))
    return [broken('The reserve was not opened.')]
  if (reserve && reserveCommitmentTo(lot, reserve.amountMinor, reserve.nonce) !== opened.reserveCommitment)
    return [broken('The reserve is not the one that was fixed at the opening.')]
  if (!isLadder(opened.terms.ladder)) return [broken('The ladder that was fixed at the opening is none.')]
  const { openingMinor, ladder, lateBid } = opened.terms
  const terms: PriceTerms = { currency, openingMinor, reserveMinor: reserve?.amountMinor ?? null, ladder, lateBid }
  const openedOf = (bid: BidLeaf) => maxima.get(bid.sequence)?.amountMinor ?? MOST_MINOR
  const isSealed = (bid: BidLeaf) => bid.sequence === revealed.sealed
  const sealedBid = bids.find(isSealed)
  const known = own.find((one) => sealedBid !== undefined && commitmentTo({ lot, ...one }) === sealedBid.commitment)
  const sealedMinor = known?.amountMinor ?? (sealedBid ? sealedMaximum(sealedBid, leaves, ladder, openedOf) : MOST_MINOR)
  const wrong = playAgain(terms, leaves, (bid) => (isSealed(bid) ? sealedMinor : openedOf(bid)))
  if (wrong) return [broken(wrong)]
  const sealed =
    revealed.sealed === null
      ? ''
      : known
        ? ` Bid ${revealed.sealed}, the winner's last, stays sealed for others; its receipt opens it, and it was played with.`
        : ` Bid ${revealed.sealed}, the winner's last, stays sealed: that it covers the price only its owner can show.`
  return [
    { isSound: true, words: `${maxima.size} of ${bids.length} maxima are open and match what was committed to.${sealed}` },
    {
      isSound: true,
      words: reserve ? `The reserve was ${showMoney(reserve.amountMinor, currency)}, as fixed at the opening.` : 'There was no reserve.',
    },
    { isSound: true, words: 'Played again from the start, every price, leader and closing comes out the same.' },
  ]
}
