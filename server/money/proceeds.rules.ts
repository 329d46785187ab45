import type { Instant } from '../kernel/instant'
import { type Minor, splitMoney } from '../kernel/money'
import { type Account, causeShare, type EntryKind, type Posting } from './journal.rules'

/** An entry as the rules see it. A correction bears the kind of what it corrects, so sums by kind stay true. */
export interface JournalEntry {
  id: string
  at: Instant
  kind: EntryKind
  lotId: string | null
  postings: readonly Posting[]
}

/** Where the money of one lot stands: each part of the cause's share is in exactly one of three states. */
export interface LotAccount {
  lotId: string
  hammerMinor: Minor
  causeMinor: Minor
  postageMinor: Minor
  receivedMinor: Minor
  /** Still to be paid by the buyer, postage included. */
  owedMinor: Minor
  wonMinor: Minor
  paidMinor: Minor
  remittedMinor: Minor
}

export type LotMoneyState = 'won' | 'part paid' | 'paid' | 'remitted'

export function lotMoneyState(account: LotAccount): LotMoneyState {
  if (account.owedMinor > 0) return account.receivedMinor > 0 ? 'part paid' : 'won'
  return account.causeMinor > 0 && account.remittedMinor === account.causeMinor ? 'remitted' : 'paid'
}

/**
 * One account for each lot that a hammer fell on. A part payment covers postage first, then the hammer
 * price, of which the cause has its share. Remittances cover what was received in the order in which
 * it first came in, gifts of money with the rest.
 */
export function lotAccounts(entries: readonly JournalEntry[]): LotAccount[] {
  return coverReceipts(entries).accounts
}

/** Received for the cause, in lots and in gifts, and not yet sent on. Below zero, more was sent on than came in. */
export function heldForCause(entries: readonly JournalEntry[]): Minor {
  const { accounts, gifts } = coverReceipts(entries)
  const received = accounts.reduce((sum, { paidMinor, remittedMinor }) => sum + paidMinor + remittedMinor, gifts.giftMinor)
  return received - remittedSoFar(entries)
}

export interface GiftAccount {
  giftMinor: Minor
  remittedMinor: Minor
}

export function giftAccount(entries: readonly JournalEntry[]): GiftAccount {
  return coverReceipts(entries).gifts
}

function coverReceipts(entries: readonly JournalEntry[]): { accounts: LotAccount[]; gifts: GiftAccount } {
  let left = remittedSoFar(entries)
  const accounts = new Map<string, LotAccount>()
  for (const lotId of new Set(entries.flatMap((entry) => entry.lotId ?? []))) accounts.set(lotId, received(lotId, entries))
  const giftMinor = 0 - sumOf(entries, 'owed-to-cause', (entry) => entry.kind === 'gift')
  const gifts = { giftMinor, remittedMinor: 0 }
  const covered = new Set<string>()
  for (const entry of entries) {
    const isGift = entry.kind === 'gift'
    const key = isGift ? 'gift' : entry.lotId
    if ((!isGift && entry.kind !== 'payment') || key === null || covered.has(key)) continue
    covered.add(key)
    const account = accounts.get(key)
    const part = Math.min(left, isGift ? giftMinor : (account?.paidMinor ?? 0))
    left -= part
    if (isGift) gifts.remittedMinor = part
    else if (account) accounts.set(key, { ...account, remittedMinor: part, paidMinor: account.paidMinor - part })
  }
  return { accounts: [...accounts.values()].filter(({ hammerMinor }) => hammerMinor > 0), gifts }
}

function received(lotId: string, entries: readonly JournalEntry[]): LotAccount {
  const mine = entries.filter((entry) => entry.lotId === lotId)
  const causeMinor = 0 - sumOf(mine, 'owed-to-cause')
  const sellerMinor = 0 - sumOf(mine, 'kept-by-seller')
  const postageMinor = 0 - sumOf(mine, 'postage')
  const receivedMinor = sumOf(mine, 'bank')
  const hammerMinor = causeMinor + sellerMinor
  const hammerPaid = Math.min(hammerMinor, Math.max(0, receivedMinor - postageMinor))
  const paidMinor = hammerMinor > 0 ? (splitMoney(hammerPaid, [causeMinor, sellerMinor])[0] ?? 0) : 0
  return {
    lotId,
    hammerMinor,
    causeMinor,
    postageMinor,
    receivedMinor,
    owedMinor: hammerMinor + postageMinor - receivedMinor,
    wonMinor: causeMinor - paidMinor,
    paidMinor,
    remittedMinor: 0,
  }
}

export const remittedSoFar = (entries: readonly JournalEntry[]): Minor =>
  sumOf(entries, 'owed-to-cause', (entry) => entry.kind === 'remittance')

export function sumOf(entries: readonly JournalEntry[], account: Account, which: (entry: JournalEntry) => boolean = () => true): Minor {
  return entries
    .filter(which)
    .flatMap((entry) => entry.postings)
    .reduce((sum, posting) => (posting.account === account ? sum + posting.amountMinor : sum), 0)
}

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
  /** The four states together: what counts towards the target, before costs. */
  countedMinor: Minor
  toGoMinor: Minor
}

/** Hammer × share + gifts of money, before costs; postage never, bids under an unreached reserve not. */
export function countProceeds(input: {
  lots: readonly StandingLot[]
  entries: readonly JournalEntry[]
  shareBp: number
  targetMinor: Minor
}): Proceeds {
  const { accounts, gifts } = coverReceipts(input.entries)
  const standing = input.lots.filter((lot) => lot.isOpen && lot.reserve !== 'unreached')
  const bidMinor = standing.reduce((sum, lot) => sum + causeShare(lot.standingMinor ?? 0, input.shareBp), 0)
  const wonMinor = total(accounts, 'wonMinor')
  const paidMinor = total(accounts, 'paidMinor') + gifts.giftMinor - gifts.remittedMinor
  const remittedMinor = total(accounts, 'remittedMinor') + gifts.remittedMinor
  const countedMinor = bidMinor + wonMinor + paidMinor + remittedMinor
  return {
    targetMinor: input.targetMinor,
    bidMinor,
    wonMinor,
    paidMinor,
    remittedMinor,
    giftMinor: gifts.giftMinor,
    countedMinor,
    toGoMinor: Math.max(0, input.targetMinor - countedMinor),
  }
}

const total = (accounts: readonly LotAccount[], key: 'wonMinor' | 'paidMinor' | 'remittedMinor'): Minor =>
  accounts.reduce((sum, account) => sum + account[key], 0)
