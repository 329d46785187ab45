import type { Minor } from '#kernel/money'
import { ACCOUNTS, type Account, ENTRY_KINDS, type EntryKind } from '../journal/journal.rules'
import type { JournalLine } from './books.contract'

/** The accounts of the journal as people call them. */
export const ACCOUNT_WORDS: Record<Account, string> = {
  'owed-by-buyers': 'owed by buyers',
  bank: 'bank',
  'owed-to-cause': 'owed to the cause',
  'kept-by-seller': 'kept by the seller',
  postage: 'postage',
  unplaced: 'unallocated',
  'cost-to-cause': 'costs borne by the cause',
  'cost-to-seller': 'costs borne by the seller',
  'cost-of-sending': 'sending costs, paid out of postage',
}

/** The kinds of entries as people call them. */
export const KIND_WORDS: Record<EntryKind, string> = {
  hammer: 'hammer prices',
  resale: 'prices of later contracts',
  reversal: 'sales that fell through',
  reduction: 'prices lowered',
  postage: 'postage',
  payment: 'payments of lots',
  release: 'what lots owe back',
  unplaced: 'unallocated money',
  refund: 'refunds',
  gift: 'gifts of money',
  matched: 'matched giving',
  cost: 'costs',
  fee: 'fees',
  remittance: 'passed on to the cause',
}

export const kindNamed = (name: string): EntryKind | null => ENTRY_KINDS.find((kind) => kind === name) ?? null

export const accountNamed = (name: string): Account | null => ACCOUNTS.find((account) => account === name) ?? null

/** One entry on one account, with what the account stands at after it. */
export interface LedgerLine {
  entry: JournalLine
  amountMinor: Minor
  balanceMinor: Minor
}

/** Which entries are asked for: of one lot, of one kind; all of them where nothing is. */
export interface EntryFilter {
  lot?: number | null
  kind?: EntryKind | null
}

export const passes = (entry: JournalLine, { lot, kind }: EntryFilter): boolean =>
  (lot == null || entry.lot === lot) && (kind == null || entry.kind === kind)

/** What was entered on an account, in the order of the journal. The balance is that of the whole account, whatever is left out of the list. */
export function ledgerOf(journal: readonly JournalLine[], account: Account, filter: EntryFilter = {}): LedgerLine[] {
  let balanceMinor = 0
  return journal.flatMap((entry): LedgerLine[] => {
    const on = entry.postings.filter((posting) => posting.account === account)
    if (on.length === 0) return []
    const amountMinor = on.reduce((sum, posting) => sum + posting.amountMinor, 0)
    balanceMinor += amountMinor
    return passes(entry, filter) ? [{ entry, amountMinor, balanceMinor }] : []
  })
}
