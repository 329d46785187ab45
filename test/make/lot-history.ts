import { generateKeyPairSync, type KeyObject, sign } from 'node:crypto'
import { type Instant, SECOND, toIso } from '#kernel/instant'
import { checkpointText, signedNote } from '#sale/history/checkpoint.rules'
import { decide, type LotCommand } from '#sale/history/decide.rules'
import type { History, Leaf, Opening } from '#sale/history/history.contract'
import { type Happening, leavesOf, openedLeaf, revealedLeaf } from '#sale/history/leaves.rules'
import { hashOfLeaf } from '#sale/history/ledger.rules'
import { rootOf } from '#sale/history/merkle.rules'
import { apply, type LotFact, type LotState, unopened } from '#sale/history/replay.rules'
import { defaultLadder } from '#sale/price/ladder.rules'
import type { Maximum, PriceTerms } from '#sale/price/price.rules'

export const pounds = (amount: number): number => Math.round(amount * 100)

export const makeTerms = (change: Partial<PriceTerms> = {}): PriceTerms => ({
  currency: 'GBP',
  openingMinor: pounds(20),
  reserveMinor: null,
  ladder: defaultLadder('GBP'),
  ...change,
})

/** The host asks a second before the maker agrees. */
export const theTwo = (at: Instant): Happening['two'] => ({
  asked: { by: 'host', at: toIso(at - SECOND) },
  agreed: { by: 'maker', at: toIso(at) },
})

export const HOUSE = 'house.example'
export const makeKey = () => {
  const { privateKey, publicKey } = generateKeyPairSync('ed25519')
  return { privateKey, publicKey, raw: new Uint8Array(Buffer.from(publicKey.export({ format: 'jwk' }).x ?? '', 'base64url')) }
}

/** A lot without a house around it: commands go through the rules, what they allow is kept as facts and leaves. */
/** `isLax`: a house that takes bids which the rule refuses. `two`: who the entry of a void says asked and agreed. */
export function makeLot({ terms = makeTerms(), closesAt = 3_600_000, number = 7, isLax = false, two = theTwo } = {}) {
  const facts: LotFact[] = []
  const leaves: Leaf[] = []
  const openings: Opening[] = []
  let arrivals: Maximum[] = []
  let state: LotState = unopened(terms)
  const reserve = terms.reserveMinor === null ? null : { amountMinor: terms.reserveMinor, nonce: 'ab'.repeat(32) }
  const nonceOf = (sequence: number) => sequence.toString(16).padStart(64, '0')

  function note(fact: LotFact): void {
    if (fact.kind === 'bid') arrivals.push(fact)
    const before = state
    state = apply(state, fact, arrivals)
    if (fact.kind === 'voided') arrivals = arrivals.filter(({ bidder }) => bidder !== fact.bidder)
    facts.push(fact)
    if (fact.kind === 'opened') {
      const sale = { title: 'Saltmarsh shortwave receiver', unit: 'TERN-03' }
      const open = {
        currency: terms.currency,
        openingMinor: terms.openingMinor,
        ladder: [...terms.ladder],
        hasReserve: reserve !== null,
        sale,
      }
      leaves.push(openedLeaf(number, fact, open, reserve))
      return
    }
    const nonce = fact.kind === 'bid' ? nonceOf(fact.sequence) : null
    if (fact.kind === 'bid')
      openings.push({ sequence: fact.sequence, alias: fact.bidder, amountMinor: fact.maximumMinor, nonce: nonceOf(fact.sequence) })
    const by = fact.kind === 'closed' ? 'rule' : fact.kind === 'voided' ? 'two of the staff' : 'maker'
    leaves.push(...leavesOf({ lot: number, fact, before, after: state, by, two: fact.kind === 'voided' ? two(fact.at) : undefined, nonce }))
    if (fact.kind === 'closed' || fact.kind === 'withdrawn') leaves.push(revealedLeaf(fact.at, state, openings, reserve))
  }

  note({ kind: 'opened', at: 0, closesAt })
  return {
    terms,
    facts,
    leaves,
    openings,
    get state() {
      return state
    },
    /** Runs one command; the words of the refusal, or null when it was taken. */
    say(command: LotCommand, now: Instant): string | null {
      const decision = decide(state, command, now)
      if (!decision.yes) return decision.words
      note(decision.fact)
      return null
    },
    bid(bidder: string, maximumMinor: number, now: Instant): string | null {
      const sequence = openings.length + 1
      if (isLax) {
        note({ kind: 'bid', at: now, bidder, maximumMinor, sequence })
        return null
      }
      return this.say({ kind: 'bid', bidder, maximumMinor, ceilingMinor: pounds(1_000_000), sequence }, now)
    },
    history({ privateKey, raw }: { privateKey: KeyObject; raw: Uint8Array } = makeKey()): History {
      const origin = `${HOUSE}/lots/${number}`
      const hashes = leaves.map(hashOfLeaf)
      // One head after each command: a late bid writes its extension with it, an end what it reveals.
      const heads = hashes.flatMap((_, index) => {
        const next = leaves[index + 1]
        if (next?.kind === 'revealed' || (next?.kind === 'extended' && next.by === 'rule')) return []
        const text = checkpointText({ origin, size: index + 1, root: rootOf(hashes.slice(0, index + 1)) })
        return [{ size: index + 1, checkpoint: signedNote(text, HOUSE, raw, new Uint8Array(sign(null, Buffer.from(text), privateKey))) }]
      })
      const links = { lot: `/lots/${number}`, page: `/lots/${number}/history`, keys: '/.well-known/jwks.json' }
      return {
        version: 1,
        lot: number,
        title: 'Saltmarsh shortwave receiver',
        unit: 'TERN-03',
        state: state.phase,
        currency: 'GBP',
        origin,
        leaves,
        heads,
        links,
      }
    },
  }
}
