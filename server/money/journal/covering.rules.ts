import type { Minor } from '#kernel/money'
import { accountOf, type JournalEntry, type LotAccount, sumOf } from './lot-account.rules'

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

/** One account for each lot that was sold, by the hammer or by another contract. */
export const lotAccounts = (entries: readonly JournalEntry[]): LotAccount[] => coverReceipts(entries).accounts

/** What has been sent on covers what was received for the cause, in the order in which each first came in. */
export function coverReceipts(entries: readonly JournalEntry[]): Covered {
  let left = remittedSoFar(entries)
  const sold = new Set(entries.flatMap(({ kind, lotId }) => ((kind === 'hammer' || kind === 'resale') && lotId !== null ? [lotId] : [])))
  const accounts = new Map([...sold].map((lotId) => [lotId, accountOf(lotId, entries)]))
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
