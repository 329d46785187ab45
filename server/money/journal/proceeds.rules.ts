import type { Minor } from '#kernel/money'
import { causeShare } from './journal.rules'
import { accountOf, type JournalEntry, type LotAccount, sumOf } from './lot-account.rules'
import { type Matchable, type Matched, type MatchPromise, matchedBy } from './matching.rules'

/** Money for the cause that is no lot's: what came in, and what of it was sent on. */
export interface Pot {
  receivedMinor: Minor
  remittedMinor: Minor
}

export interface Covered {
  accounts: LotAccount[]
  gifts: Pot
  matched: Pot
}

/** One account for each lot that a hammer fell on. */
export const lotAccounts = (entries: readonly JournalEntry[]): LotAccount[] => coverReceipts(entries).accounts

/** What has been sent on covers what was received for the cause, in the order in which each first came in. */
export function coverReceipts(entries: readonly JournalEntry[]): Covered {
  let left = remittedSoFar(entries)
  const hammered = new Set(entries.flatMap(({ kind, lotId }) => (kind === 'hammer' && lotId !== null ? [lotId] : [])))
  const accounts = new Map([...hammered].map((lotId) => [lotId, accountOf(lotId, entries)]))
  const pots = { gift: potOf(entries, 'gift'), matched: potOf(entries, 'matched') }
  const covered = new Set<string>()
  for (const { kind, lotId } of entries) {
    const isPot = kind === 'gift' || kind === 'matched'
    const key = isPot ? kind : lotId
    if ((!isPot && kind !== 'payment') || key === null || covered.has(key)) continue
    covered.add(key)
    const account = isPot ? undefined : accounts.get(key)
    const part = Math.min(left, isPot ? Math.max(0, pots[kind].receivedMinor) : (account?.paidMinor ?? 0))
    left -= part
    if (isPot) pots[kind].remittedMinor = part
    else if (account) accounts.set(key, { ...account, remittedMinor: part, paidMinor: account.paidMinor - part })
  }
  return { accounts: [...accounts.values()], gifts: pots.gift, matched: pots.matched }
}

const potOf = (entries: readonly JournalEntry[], of: 'gift' | 'matched'): Pot => ({
  receivedMinor: 0 - sumOf(entries, 'owed-to-cause', ({ kind }) => kind === of),
  remittedMinor: 0,
})

/** Received for the cause, less what it bore of costs, and not yet sent on. Below zero, more was sent on than there is. */
export function heldForCause(entries: readonly JournalEntry[]): Minor {
  const { accounts, gifts, matched } = coverReceipts(entries)
  const fromLots = accounts.reduce((sum, { paidMinor, remittedMinor }) => sum + paidMinor + remittedMinor, 0)
  return fromLots + gifts.receivedMinor + matched.receivedMinor - sumOf(entries, 'cost-to-cause') - remittedSoFar(entries)
}

export const remittedSoFar = (entries: readonly JournalEntry[]): Minor =>
  sumOf(entries, 'owed-to-cause', (entry) => entry.kind === 'remittance')

export interface StandingLot {
  isOpen: boolean
  standingMinor: Minor | null
  reserve: 'none' | 'unreached' | 'reached'
}

/** The four exclusive states of every penny that counts towards the target, and what is left to it. */
export interface Proceeds {
  targetMinor: Minor
  bidMinor: Minor
  wonMinor: Minor
  paidMinor: Minor
  remittedMinor: Minor
  /** Gifts of money, a part of paid and remitted. */
  giftMinor: Minor
  /** Matched giving, a part of each of the four. */
  matchedMinor: Minor
  /** The four states together: what counts towards the target, before costs. */
  countedMinor: Minor
  toGoMinor: Minor
}

export interface CountOf {
  lots: readonly StandingLot[]
  entries: readonly JournalEntry[]
  promises: readonly MatchPromise[]
  shareBp: number
  targetMinor: Minor
}

/** Hammer × share + gifts of money + matched giving, before costs; postage never, bids under an unreached reserve not. */
export function countProceeds(input: CountOf): Proceeds {
  const { accounts, gifts, matched: matchedPot } = coverReceipts(input.entries)
  const bids = standingForCause(input.lots, input.shareBp)
  const matched = matchAll(input)
  const bidMinor = bids + total(matched, 'bidMinor')
  const wonMinor = total(accounts, 'wonMinor') + total(matched, 'wonMinor')
  const received = total(accounts, 'paidMinor') + gifts.receivedMinor + matchedPot.receivedMinor
  const paidMinor = received - gifts.remittedMinor - matchedPot.remittedMinor
  const remittedMinor = total(accounts, 'remittedMinor') + gifts.remittedMinor + matchedPot.remittedMinor
  const countedMinor = bidMinor + wonMinor + paidMinor + remittedMinor
  return {
    targetMinor: input.targetMinor,
    bidMinor,
    wonMinor,
    paidMinor,
    remittedMinor,
    giftMinor: gifts.receivedMinor,
    matchedMinor: total(matched, 'bidMinor') + total(matched, 'wonMinor') + matchedPot.receivedMinor,
    countedMinor,
    toGoMinor: Math.max(0, input.targetMinor - countedMinor),
  }
}

/** Each promise on the same base: matched money is never matched again. */
export function matchAll(input: Pick<CountOf, 'lots' | 'entries' | 'promises' | 'shareBp'>): Matched[] {
  if (input.promises.length === 0) return []
  const { accounts, gifts } = coverReceipts(input.entries)
  const base: Matchable = {
    lots: {
      bidMinor: standingForCause(input.lots, input.shareBp),
      wonMinor: total(accounts, 'wonMinor'),
      inBankMinor: total(accounts, 'paidMinor') + total(accounts, 'remittedMinor'),
    },
    giftMinor: gifts.receivedMinor,
  }
  return input.promises.map((promise) => {
    const received = 0 - sumOf(input.entries, 'owed-to-cause', ({ promiseId }) => promiseId === promise.id)
    return matchedBy(promise, base, received)
  })
}

const standingForCause = (lots: readonly StandingLot[], shareBp: number): Minor =>
  lots.filter((lot) => lot.isOpen && lot.reserve !== 'unreached').reduce((sum, lot) => sum + causeShare(lot.standingMinor ?? 0, shareBp), 0)

const total = <Key extends string>(rows: readonly Record<Key, Minor>[], key: Key): Minor => rows.reduce((sum, row) => sum + row[key], 0)
