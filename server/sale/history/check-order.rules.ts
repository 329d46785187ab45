import { SHORT_SILENCE } from '#kernel/silence'
import { isPast } from '../price/closing.rules'
import { broken, type Finding } from './finding.rules'
import type { Leaf } from './history.contract'

/** The order of things: what may follow what, whatever the amounts are. */
export function checkOrder(leaves: readonly Leaf[]): Finding {
  const [bidders, voided] = [new Set<string>(), new Set<string>()]
  let named: unknown = ''
  let [last, sequence, isHeld, isOver, closesAt, standingMinor] = ['', 0, false, false, '', 0]
  for (const [index, leaf] of leaves.entries()) {
    const place = `Entry ${index + 1} (${leaf.kind})`
    if ((index === 0) !== (leaf.kind === 'opened')) return broken(`${place}: a history begins with its opening, and only once.`)
    if (leaf.at < last) return broken(`${place} is earlier than the one before it.`)
    if (isOver && leaf.kind !== 'revealed') return broken(`${place} stands after the end of the lot.`)
    if (leaf.kind === 'revealed' && (!isOver || index !== leaves.length - 1 || leaf.at !== last))
      return broken(`${place}: the maxima are opened once, with the end.`)
    if (leaf.kind === 'bid') {
      sequence += 1
      if (leaf.sequence !== sequence) return broken(`${place} carries number ${leaf.sequence} where ${sequence} is due.`)
      if (voided.has(leaf.alias)) return broken(`${place}: an alias whose bids were voided bids no more.`)
      bidders.add(leaf.alias)
      if (isHeld) return broken(`${place} was taken while the clocks stood.`)
      if (isPast(Date.parse(closesAt), Date.parse(leaf.at))) return broken(`${place} was taken at or after the closing.`)
      if ((leaf.standingMinor ?? 0) < standingMinor) return broken(`${place}: the standing bid fell without a void.`)
    }
    if (leaf.kind === 'voided' && !isOfTwo(leaf, leaves[0]?.at ?? ''))
      return broken(`${place}: it was not asked for by one of the staff and then, at its own time, agreed to by another.`)
    if (leaf.kind === 'voided' && !bidders.has(leaf.alias)) return broken(`${place}: nobody had bid under the alias that was voided.`)
    if (leaf.kind === 'voided') voided.add(leaf.alias)
    if (leaf.kind === 'opened' && leaf.terms.hasReserve !== (leaf.reserveCommitment !== null))
      return broken(`${place}: a reserve is committed to where there is one, and nowhere else.`)
    const fault = isHeld || index === 0 ? null : faultOnceDue(leaf, closesAt)
    if (fault) return broken(`${place} ${fault}`)
    const wrong = leaf.kind === 'outage' ? faultInOutage(leaf, { isHeld, closesAt, last }) : null
    if (wrong) return broken(`${place} ${wrong}`)
    if (leaf.kind === 'opened') named = leaf.terms.sale.certificate
    if (leaf.kind === 'corrected' && leaf.certificate) {
      const { serial, is, by } = leaf.certificate
      if (leaf.by !== 'rule' || serial !== named || (is === 'superseded' && by === null))
        return broken(`${place}: it speaks of a certificate that this lot does not name.`)
      named = by ?? serial
    }
    if ((leaf.kind === 'held' && isHeld) || (leaf.kind === 'resumed' && !isHeld))
      return broken(`${place}: the lot was ${isHeld ? 'on hold already' : 'not on hold'}.`)
    if (leaf.kind === 'held' || leaf.kind === 'resumed') isHeld = leaf.kind === 'held'
    if (leaf.kind === 'closed' || leaf.kind === 'withdrawn') isOver = true
    if (leaf.kind === 'bid' || leaf.kind === 'voided') standingMinor = leaf.standingMinor ?? 0
    if ('closesAt' in leaf) {
      if (leaf.closesAt < closesAt) return broken(`${place} moved the closing earlier.`)
      closesAt = leaf.closesAt
    }
    if (leaf.kind === 'closed' && leaf.at !== closesAt) return broken(`${place} is not at the closing that was announced.`)
    last = leaf.at
  }
  if (isOver && leaves.at(-1)?.kind !== 'revealed') return broken('The lot has ended, but its maxima were not opened.')
  return { isSound: true, words: 'The order of arrival is whole: no bid is missing a number, none was taken late or on hold.' }
}

/** A closing that has come leaves nothing to be done to a lot whose clock runs but to close it, or to say that the house was silent. */
function faultOnceDue({ kind, at }: Leaf, closesAt: string): string | null {
  if (kind === 'closed' || kind === 'outage' || kind === 'revealed') return null
  return isPast(Date.parse(closesAt), Date.parse(at)) ? 'stands at or after the closing, when nothing more is done to a lot.' : null
}

/** An outage is told when it is over, of a lot whose clock ran and had not come to its end when it began. */
function faultInOutage(
  { at, from, to }: Extract<Leaf, { kind: 'outage' }>,
  { isHeld, closesAt, last }: { isHeld: boolean; closesAt: string; last: string },
): string | null {
  if (from > to) return 'ends before it begins.'
  if (to !== at) return 'was told at another time than it ended.'
  if (isHeld) return 'came while the clocks stood.'
  if (isPast(Date.parse(closesAt), Date.parse(from))) return 'began at or after the closing.'
  // Earlier houses said the last second in which they had noted that they were alive, and may have done something in it.
  return Date.parse(from) + SHORT_SILENCE < Date.parse(last) ? 'began before the entry before it.' : null
}

/** Both of the two who void a bid are told, or, in entries of before they were, neither. */
function isOfTwo({ by, at, asked, agreed }: Extract<Leaf, { kind: 'voided' }>, openedAt: string): boolean {
  if (by !== 'two of the staff') return false
  if (!asked || !agreed) return asked === agreed
  return openedAt <= asked.at && asked.at <= agreed.at && agreed.at === at
}
