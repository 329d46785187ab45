import type { Minor } from '#kernel/money'
import { ACCOUNTS, type Account } from '../journal/journal.rules'
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

export const accountNamed = (name: string): Account | null => ACCOUNTS.find((account) => account === name) ?? null

/** One entry on one account, with what the account stands at after it. */
export interface LedgerLine {
  entry: JournalLine
  amountMinor: Minor
  balanceMinor: Minor
}

/** What was entered on an account, in the order of the journal. The balance is that of the whole account, whatever is left out of the list. */
export function ledgerOf(journal: readonly JournalLine[], account: Account, filter: { lot?: number | null } = {}): LedgerLine[] {
  let balanceMinor = 0
  return journal.flatMap((entry): LedgerLine[] => {
    const on = entry.postings.filter((posting) => posting.account === account)
    if (on.length === 0) return []
    const amountMinor = on.reduce((sum, posting) => sum + posting.amountMinor, 0)
    balanceMinor += amountMinor
    return filter.lot == null || entry.lot === filter.lot ? [{ entry, amountMinor, balanceMinor }] : []
  })
}
