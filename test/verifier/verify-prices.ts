// What a lot's history says of money and of the closing: with the maxima opened, and while they are sealed. Written from
// public/history-format.md alone; see verify-history.ts, which asks this.
import { type Anything, must, sha256 } from './plain'

const QUARTER_OF_AN_HOUR = 900_000

/** By the terms; by two minutes and two minutes where they were signed before there was a choice. */
const lateBidOf = (leaves: Anything): { windowMs: number; addsMs: number } =>
  leaves[0].terms.lateBid ?? { windowMs: 120_000, addsMs: 120_000 }

const isMovedBy = (leaves: Anything, at: number, closing: number): boolean =>
  closing - at < lateBidOf(leaves).windowMs && at + lateBidOf(leaves).addsMs > closing

const commitment = (tag: string, lot: number, { alias, sequence, amountMinor, nonce }: Anything): string =>
  sha256([tag, lot, alias, sequence, amountMinor].map((part) => `${part}\0`).join(''), Buffer.from(nonce, 'hex')).toString('hex')

const isHex = (text: unknown): boolean => typeof text === 'string' && /^[0-9a-f]{64}$/.test(text)

/** The maximum of each bid by its sequence; the sealed one is left out. */
export function checkOpenings({ lot, leaves }: Anything, { openings, reserve, sealed }: Anything): Map<number, number> {
  const maxima = new Map<number, number>(openings.map(({ sequence, amountMinor }: Anything) => [sequence, amountMinor]))
  const bids = leaves.filter(({ kind }: Anything) => kind === 'bid')
  must(
    maxima.size === openings.length && openings.length === bids.length - (sealed === null ? 0 : 1),
    'every bid but the sealed one is opened',
  )
  openings.forEach((one: Anything, index: number) => {
    must(index === 0 || one.sequence > openings[index - 1].sequence, 'openings in order of arrival')
  })
  for (const bid of bids) {
    must(isHex(bid.commitment), 'a commitment is 64 hex digits')
    const opening = openings.find(({ sequence }: Anything) => sequence === bid.sequence)
    if (!opening && bid.sequence === sealed) continue
    must(opening && opening.alias === bid.alias, `bid ${bid.sequence} is opened`)
    must(commitment('tagstrip/maximum/v1', lot, opening) === bid.commitment, `bid ${bid.sequence} is opened with what it was made with`)
  }
  const sealedReserve = leaves[0].reserveCommitment
  must((reserve === null) === (sealedReserve === null) && leaves[0].terms.hasReserve === (reserve !== null), 'the reserve is opened')
  if (reserve) {
    const opened = commitment('tagstrip/reserve/v1', lot, { alias: '', sequence: 0, ...reserve })
    must(opened === sealedReserve, 'the reserve is the one that was fixed')
  }
  return maxima
}

const checkLadder = (ladder: Anything): void => {
  must(ladder[0]?.fromMinor === 0, 'a ladder begins at nought')
  for (const [index, rung] of ladder.entries()) {
    const before = ladder[index - 1]
    must(rung.stepMinor > 0 && (!before || (before.fromMinor < rung.fromMinor && before.stepMinor <= rung.stepMinor)), 'a ladder rises')
  }
}

/** While the maxima are sealed: what the entries alone say. */
export function checkOpen({ leaves }: Anything): void {
  const { openingMinor, ladder, hasReserve } = leaves[0].terms
  checkLadder(ladder)
  const step = (amount: number): number => ladder.findLast((rung: Anything) => rung.fromMinor <= amount).stepMinor
  const isOverSomebody = (price: number): boolean =>
    ladder.some(({ stepMinor }: Anything) => price - stepMinor >= openingMinor && step(price - stepMinor) === stepMinor)
  let was: Anything = { standingMinor: null, leader: null, why: null }
  let closing = Date.parse(leaves[0].closesAt)
  let heldAt: number | null = null
  let [reserve, isDue] = [0, false]
  const bidders = new Set<string>()
  for (const [index, leaf] of leaves.entries()) {
    const at = Date.parse(leaf.at)
    const isByRule = leaf.kind === 'extended' && leaf.by === 'rule'
    must(isByRule === isDue && (!isByRule || leaf.at === leaves[index - 1].at), 'the rule extends after a late bid, and only then')
    isDue = false
    if (leaf.kind === 'bid') {
      bidders.add(leaf.alias)
      must(leaf.leader === leaf.alias || leaf.leader === was.leader, 'who led before or who bids leads')
      const isHigher = leaf.standingMinor > (was.standingMinor ?? -1)
      if (was.leader !== leaf.alias) {
        must(leaf.standingMinor >= (was.leader === null ? openingMinor : was.standingMinor + step(was.standingMinor)), 'a step at least')
      } else if (was.why === 'cap') must(isHigher, 'a cap that is raised raises the price')
      else must(isHigher ? leaf.why === 'reserve' && was.why !== 'reserve' : leaf.why === was.why, 'a raise alone moves no price')
      if ((leaf.leader !== was.leader || leaf.standingMinor !== was.standingMinor) && isMovedBy(leaves, at, closing)) {
        closing = at + lateBidOf(leaves).addsMs
        isDue = true
      }
    }
    if (leaf.kind === 'voided') {
      bidders.delete(leaf.alias)
      closing = Math.max(closing, (heldAt ?? at) + QUARTER_OF_AN_HOUR)
    }
    if (leaf.kind === 'bid' || leaf.kind === 'voided') {
      const { standingMinor, leader, why } = leaf
      must((leader === null) === (bidders.size === 0) && (standingMinor === null) === (why === null), 'somebody leads where somebody bid')
      must((leader === null) === (why === null) && (leader === null || bidders.has(leader)), 'the leader has a bid')
      if (leader !== null) must(standingMinor >= openingMinor, 'not under the opening price')
      if (why === 'opening') must(bidders.size === 1 && standingMinor === openingMinor, 'the opening price is for one bidder')
      if (why === 'second' || why === 'cap') must(bidders.size > 1, 'a second takes two')
      if (why === 'second') must(isOverSomebody(standingMinor), 'a step over a bid')
      if (why === 'reserve') {
        must(
          hasReserve && standingMinor > openingMinor && (reserve === 0 || reserve === standingMinor),
          'one reserve, and over the opening price',
        )
        reserve = standingMinor
      }
      was = leaf
    }
    if (leaf.kind === 'extended' && !isByRule) {
      must(Date.parse(leaf.closesAt) > closing, 'an extension is later')
      closing = Date.parse(leaf.closesAt)
    }
    if (leaf.kind === 'held') heldAt = at
    if (leaf.kind === 'resumed') {
      must(isEnough(leaf.shiftMs, closing, heldAt ?? at, at), 'with what was left, or a quarter of an hour')
      heldAt = null
    }
    if (leaf.kind === 'outage')
      must(isEnough(leaf.shiftMs, closing, Date.parse(leaf.from), Date.parse(leaf.to)), 'after an outage there is time enough')
    if (leaf.kind === 'resumed' || leaf.kind === 'outage') closing += leaf.shiftMs
    if (leaf.closesAt !== undefined) must(Date.parse(leaf.closesAt) === closing, `the closing at entry ${index + 1}`)
  }
  must(!isDue, 'the extension of the last bid')
}

/** By the time it stood, or by what is missing of a quarter of an hour, whichever is less. */
const isEnough = (shiftMs: number, closing: number, from: number, to: number): boolean =>
  shiftMs >= Math.max(0, Math.min(to - from, to + QUARTER_OF_AN_HOUR - closing))

export function playAgain({ state, leaves }: Anything, maxima: Map<number, number>): void {
  const { openingMinor, ladder } = leaves[0].terms
  checkLadder(ladder)
  const step = (amount: number): number => ladder.findLast((rung: Anything) => rung.fromMinor <= amount).stepMinor
  const reserve = leaves.at(-1).reserve?.amountMinor ?? null
  const { sealed } = leaves.at(-1)

  /** Leader, price and reason of bids in order of arrival. */
  const standingOf = (bids: Anything[]) => {
    const last = new Map<string, Anything>(bids.map((bid) => [bid.alias, bid]))
    const [leader, second] = [...last.values()].sort((a, b) => b.maximum - a.maximum || a.sequence - b.sequence)
    if (!leader) return { leader: null, price: null, why: null, maximum: 0 }
    const over = second ? second.maximum + step(second.maximum) : 0
    const reached = reserve !== null && leader.maximum >= reserve ? reserve : 0
    const free = Math.max(openingMinor, over, reached)
    const price = Math.min(leader.maximum, free)
    const why =
      leader.maximum < free ? 'cap' : reached > Math.max(openingMinor, over) ? 'reserve' : over >= openingMinor ? 'second' : 'opening'
    return { leader: leader.alias, price, why, maximum: leader.maximum }
  }
  /** The most that the sealed maximum can have been, by the bounds that the entries from its bid on set. */
  const mostOfSealed = (): number => {
    const from = leaves.findIndex((leaf: Anything) => leaf.kind === 'bid' && leaf.sequence === sealed)
    const { alias } = leaves[from]
    let most = Number.MAX_SAFE_INTEGER / 4
    for (const [index, leaf] of leaves.entries()) {
      if (index < from || (leaf.kind !== 'bid' && leaf.kind !== 'voided') || leaf.leader === null) continue
      if (leaf.leader === alias) {
        if (leaf.why === 'cap') most = Math.min(most, leaf.standingMinor)
        continue
      }
      const leading = leaves.slice(0, index + 1).findLast((one: Anything) => one.kind === 'bid' && one.alias === leaf.leader)
      const maximum = maxima.get(leading.sequence) ?? 0
      most = Math.min(most, leading.sequence > sealed ? maximum - 1 : maximum)
      const aim = leaf.why === 'second' ? leaf.standingMinor : leaf.why === 'reserve' ? leaf.standingMinor - 1 : null
      if (aim === null) continue
      // By halving: a step never falls, so an amount with its step grows with the amount.
      let [fits, over] = [-1, aim]
      while (over - fits > 1) {
        const middle = Math.floor((fits + over) / 2)
        if (middle + step(middle) <= aim) fits = middle
        else over = middle
      }
      most = Math.min(most, fits)
    }
    return most
  }
  const highest = sealed === null ? 0 : mostOfSealed()
  const maximumOf = (bid: Anything): number => maxima.get(bid.sequence) ?? highest

  let bids: Anything[] = []
  let closing = Date.parse(leaves[0].closesAt)
  let heldAt: number | null = null
  for (const [index, leaf] of leaves.entries()) {
    const at = Date.parse(leaf.at)
    const before = standingOf(bids)
    const saysLate = leaves[index + 1]?.kind === 'extended' && leaves[index + 1].by === 'rule'
    if (leaf.kind === 'extended' && leaf.by === 'rule')
      must(
        leaves[index - 1].kind === 'bid' && leaf.at === leaves[index - 1].at && leaf.closesAt === leaves[index - 1].closesAt,
        'the rule extends after a bid',
      )
    else if (leaf.kind !== 'bid') must(!saysLate, 'the rule extends only after a bid')
    if (leaf.kind === 'bid') {
      const maximum = maximumOf(leaf)
      const least =
        before.leader === leaf.alias ? before.maximum + 1 : before.price === null ? openingMinor : before.price + step(before.price)
      must(maximum >= least, `bid ${leaf.sequence} was high enough`)
      bids.push({ alias: leaf.alias, sequence: leaf.sequence, maximum })
      const after = standingOf(bids)
      const isLate = isMovedBy(leaves, at, closing) && (after.leader !== before.leader || after.price !== before.price)
      if (isLate) closing = at + lateBidOf(leaves).addsMs
      must(isLate === saysLate, 'a late bid, and no other, extends')
    }
    if (leaf.kind === 'extended' && leaf.by !== 'rule') {
      must(Date.parse(leaf.closesAt) > closing, 'an extension is later')
      closing = Date.parse(leaf.closesAt)
    }
    if (leaf.kind === 'held') {
      must(heldAt === null, 'held once')
      heldAt = at
    }
    if (leaf.kind === 'resumed') {
      must(heldAt !== null && isEnough(leaf.shiftMs, closing, heldAt, at), 'resumed after a hold, with time enough')
      heldAt = null
    }
    if (leaf.kind === 'outage')
      must(isEnough(leaf.shiftMs, closing, Date.parse(leaf.from), Date.parse(leaf.to)), 'after an outage there is time enough')
    if (leaf.kind === 'resumed' || leaf.kind === 'outage') closing += leaf.shiftMs
    if (leaf.kind === 'voided') {
      bids = bids.filter(({ alias }) => alias !== leaf.alias)
      closing = Math.max(closing, (heldAt ?? at) + QUARTER_OF_AN_HOUR)
    }
    const now = standingOf(bids)
    if (leaf.closesAt !== undefined) must(Date.parse(leaf.closesAt) === closing, `the closing at entry ${index + 1}`)
    if (leaf.why !== undefined)
      must(leaf.leader === now.leader && leaf.standingMinor === now.price && leaf.why === now.why, `the price at entry ${index + 1}`)
    if (leaf.kind === 'closed') {
      must(heldAt === null, 'a lot on hold does not close')
      const isSold = now.leader !== null && (reserve === null || now.maximum >= reserve)
      must(leaf.result === (isSold ? 'sold' : 'unsold') && leaf.leader === now.leader, 'the result is the one of the rule')
      must(leaf.hammerMinor === (isSold ? now.price : null), 'the hammer price is the standing bid')
      const lastOfWinner = leaves.findLast((one: Anything) => one.kind === 'bid' && one.alias === now.leader)?.sequence
      must(sealed === (isSold ? lastOfWinner : null), 'only the last bid of the winner stays sealed')
      must(state === leaf.result, 'the state is what the entries lead to')
    }
    if (leaf.kind === 'withdrawn') must(state === 'withdrawn' && sealed === null, 'a withdrawn lot opens everything')
  }
}
