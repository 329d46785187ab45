import { invariant } from '../kernel/invariant'
import { type Minor, splitMoney } from '../kernel/money'

/** The accounts of the journal. What is owed to us and held by us stands above zero, what we owe below. */
export const ACCOUNTS = ['owed-by-buyers', 'bank', 'owed-to-cause', 'kept-by-seller', 'postage'] as const
export type Account = (typeof ACCOUNTS)[number]

export const ENTRY_KINDS = ['hammer', 'postage', 'payment', 'gift', 'remittance'] as const
export type EntryKind = (typeof ENTRY_KINDS)[number]

export interface Posting {
  account: Account
  amountMinor: Minor
}

/** Basis points: the whole. */
export const WHOLE_BP = 10_000

/** The cause's part of an amount, without losing a penny of it. */
export const causeShare = (amount: Minor, shareBp: number): Minor => splitMoney(amount, [shareBp, WHOLE_BP - shareBp])[0] ?? 0

/** The hammer fell: the buyer owes the price, and we owe it on, by share, to the cause and the seller. */
export function hammerPostings(hammerMinor: Minor, shareBp: number): Posting[] {
  const cause = causeShare(hammerMinor, shareBp)
  return balanced([
    { account: 'owed-by-buyers', amountMinor: hammerMinor },
    { account: 'owed-to-cause', amountMinor: -cause },
    { account: 'kept-by-seller', amountMinor: -(hammerMinor - cause) },
  ])
}

/** Postage that the buyer pays; a change of it is an entry of the difference, which may be below zero. */
export function postagePostings(differenceMinor: Minor): Posting[] {
  return balanced([
    { account: 'owed-by-buyers', amountMinor: differenceMinor },
    { account: 'postage', amountMinor: -differenceMinor },
  ])
}

export function paymentPostings(amountMinor: Minor): Posting[] {
  return balanced([
    { account: 'bank', amountMinor },
    { account: 'owed-by-buyers', amountMinor: -amountMinor },
  ])
}

/** A gift of money goes to the cause whole. */
export function giftPostings(amountMinor: Minor): Posting[] {
  return balanced([
    { account: 'bank', amountMinor },
    { account: 'owed-to-cause', amountMinor: -amountMinor },
  ])
}

export function remittancePostings(amountMinor: Minor): Posting[] {
  return balanced([
    { account: 'owed-to-cause', amountMinor },
    { account: 'bank', amountMinor: -amountMinor },
  ])
}

/** What undoes an entry: the same lines with their signs turned. */
export function reversed(postings: readonly Posting[]): Posting[] {
  return balanced(postings.map(({ account, amountMinor }) => ({ account, amountMinor: -amountMinor || 0 })))
}

/** Lines of nought are left out, and the promise of every journal is kept here. */
export function balanced(postings: readonly Posting[]): Posting[] {
  const lines = postings.filter(({ amountMinor }) => amountMinor !== 0)
  invariant(
    lines.every(({ amountMinor }) => Number.isSafeInteger(amountMinor)),
    'amounts are whole minor units',
  )
  invariant(lines.reduce((sum, { amountMinor }) => sum + amountMinor, 0) === 0, 'entries balance')
  return lines
}
