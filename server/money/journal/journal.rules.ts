import { invariant } from '#kernel/invariant'
import { type Minor, splitMoney } from '#kernel/money'

/** The accounts of the journal. What is owed to us, held by us or spent stands above zero, what we owe below. */
export const ACCOUNTS = [
  'owed-by-buyers',
  'bank',
  'owed-to-cause',
  'kept-by-seller',
  'postage',
  'unplaced',
  'cost-to-cause',
  'cost-to-seller',
  'cost-of-sending',
] as const
export type Account = (typeof ACCOUNTS)[number]

/** A correction bears the kind of what it corrects; money that finds its home is a payment or a gift out of `unplaced`. */
export const ENTRY_KINDS = [
  'hammer',
  'resale',
  'reversal',
  'reduction',
  'postage',
  'payment',
  'release',
  'unplaced',
  'refund',
  'gift',
  'matched',
  'cost',
  'fee',
  'remittance',
] as const
export type EntryKind = (typeof ENTRY_KINDS)[number]

export const COST_ABOUT = ['parts', 'tools', 'sending', 'stream', 'other'] as const
export type CostAbout = (typeof COST_ABOUT)[number]

/** Whose money a cost comes out of: the seller's part, what goes to the cause, or the postage that buyers paid. */
export const COST_BEARERS = ['seller', 'cause', 'postage'] as const
export type CostBearer = (typeof COST_BEARERS)[number]

export interface Posting {
  account: Account
  amountMinor: Minor
}

/** Basis points: the whole. */
export const WHOLE_BP = 10_000

/** The cause's part of an amount, without losing a penny of it. */
export const causeShare = (amount: Minor, shareBp: number): Minor => splitMoney(amount, [shareBp, WHOLE_BP - shareBp])[0] ?? 0

/** Lines as `[account, amount]`, proved to balance. */
const lines = (...each: [Account, Minor][]): Posting[] => balanced(each.map(([account, amountMinor]) => ({ account, amountMinor })))

/** The hammer fell: the buyer owes the price, and we owe it on, by share, to the cause and the seller. */
export function hammerPostings(hammerMinor: Minor, shareBp: number): Posting[] {
  const cause = causeShare(hammerMinor, shareBp)
  return lines(['owed-by-buyers', hammerMinor], ['owed-to-cause', -cause], ['kept-by-seller', -(hammerMinor - cause)])
}

/** Postage that the buyer pays; a change of it is an entry of the difference, which may be below zero. */
export const postagePostings = (differenceMinor: Minor): Posting[] =>
  lines(['owed-by-buyers', differenceMinor], ['postage', -differenceMinor])

/** What came in for a lot, and what of it is more than was owed. */
export const paymentPostings = (amountMinor: Minor, overMinor: Minor = 0): Posting[] =>
  lines(['bank', amountMinor], ['owed-by-buyers', -(amountMinor - overMinor)], ['unplaced', -overMinor])

/** A gift of money goes to the cause whole; so does what a matcher sends. */
export const giftPostings = (amountMinor: Minor): Posting[] => lines(['bank', amountMinor], ['owed-to-cause', -amountMinor])

export const remittancePostings = (amountMinor: Minor): Posting[] => lines(['owed-to-cause', amountMinor], ['bank', -amountMinor])

/** Money came in and nobody can say yet what it is for. */
export const unplacedPostings = (amountMinor: Minor): Posting[] => lines(['bank', amountMinor], ['unplaced', -amountMinor])

/** Where money without a home goes: to a lot, to the cause as a gift, or back out of the bank. */
export const placingPostings = (amountMinor: Minor, to: 'owed-by-buyers' | 'owed-to-cause' | 'bank'): Posting[] =>
  lines(['unplaced', amountMinor], [to, -amountMinor])

/** What was paid for a lot is no longer its: it is owed back and stands with the money that has no home. */
export const releasePostings = (amountMinor: Minor): Posting[] => lines(['owed-by-buyers', amountMinor], ['unplaced', -amountMinor])

/** Money for a lot went back while the sale stands: the buyer owes it again. */
export const refundPostings = (amountMinor: Minor): Posting[] => lines(['owed-by-buyers', amountMinor], ['bank', -amountMinor])

const COST_ACCOUNT = { seller: 'cost-to-seller', cause: 'cost-to-cause', postage: 'cost-of-sending' } as const satisfies Record<
  CostBearer,
  Account
>

/** A cost or a fee. Paid out of the seller's own pocket it is owed back to the seller, whoever bears it. */
export const costPostings = (amountMinor: Minor, bearer: CostBearer, paidFrom: 'bank' | 'pocket'): Posting[] =>
  lines([COST_ACCOUNT[bearer], amountMinor], [paidFrom === 'bank' ? 'bank' : 'kept-by-seller', -amountMinor])

/** A part of the price is let go; the cause and the seller bear it by their parts of that very price. */
export function reductionPostings(amountMinor: Minor, parts: { causeMinor: Minor; sellerMinor: Minor }): Posting[] {
  const cause = splitMoney(amountMinor, [parts.causeMinor, parts.sellerMinor])[0] ?? 0
  return lines(['owed-by-buyers', -amountMinor], ['owed-to-cause', cause], ['kept-by-seller', amountMinor - cause])
}

/** The sale falls through: price and postage are owed by nobody. */
export const reversalPostings = (sale: { causeMinor: Minor; sellerMinor: Minor; postageMinor: Minor }): Posting[] =>
  lines(
    ['owed-by-buyers', -(sale.causeMinor + sale.sellerMinor + sale.postageMinor)],
    ['owed-to-cause', sale.causeMinor],
    ['kept-by-seller', sale.sellerMinor],
    ['postage', sale.postageMinor],
  )

/** What undoes an entry: the same lines with their signs turned. */
export function reversed(postings: readonly Posting[]): Posting[] {
  return balanced(postings.map(({ account, amountMinor }) => ({ account, amountMinor: -amountMinor || 0 })))
}

/** Lines of nought are left out, and the promise of every journal is kept here. */
export function balanced(postings: readonly Posting[]): Posting[] {
  const kept = postings.filter(({ amountMinor }) => amountMinor !== 0)
  invariant(
    kept.every(({ amountMinor }) => Number.isSafeInteger(amountMinor)),
    'amounts are whole minor units',
  )
  invariant(kept.reduce((sum, { amountMinor }) => sum + amountMinor, 0) === 0, 'entries balance')
  return kept
}
