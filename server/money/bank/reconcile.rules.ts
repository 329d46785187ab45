import type { Minor } from '#kernel/money'
import type { StatedBalances } from './camt-file.rules'

export interface LineKept {
  id: string
  bookedOn: string
  amountMinor: Minor
  state: 'open' | 'placed' | 'set aside'
  /** What stands of the entries that it was booked as: what was reversed since is not in it. */
  bookedMinor: Minor
}

export interface EntryOfBank {
  entryId: string
  valueOn: string
  amountMinor: Minor
  isOnLine: boolean
  /** Taken back by another entry, or taking one back, and neither is on a line: together they come to nothing. */
  isUndone: boolean
}

export interface Reconciled {
  balances: StatedBalances
  /** Lines of those days, in all, and what of them was none of the campaign's. */
  linesMinor: Minor
  setAsideMinor: Minor
  /** By how much the lines miss the bank's own closing balance: lines that were never imported, or too many. */
  missingMinor: Minor
  /** Lines with no entry, or with entries that do not come to them. */
  linesWithoutEntry: string[]
  /** Entries up to the closing day that no line of the bank shows. */
  entriesWithoutLine: string[]
  agrees: boolean
}

/** Holds the books against what the bank says of its account: they agree only where every line and every entry has the other. */
export function reconcile(balances: StatedBalances, lines: readonly LineKept[], entries: readonly EntryOfBank[]): Reconciled {
  const within = lines.filter(({ bookedOn }) => bookedOn >= balances.opensOn && bookedOn <= balances.closesOn)
  const sum = (some: readonly LineKept[]) => some.reduce((all, { amountMinor }) => all + amountMinor, 0)
  const linesMinor = sum(within)
  const missingMinor = balances.closingMinor - balances.openingMinor - linesMinor
  const linesWithoutEntry = within
    .filter(({ state, bookedMinor, amountMinor }) => state === 'open' || (state === 'placed' && bookedMinor !== amountMinor))
    .map(({ id }) => id)
  const entriesWithoutLine = entries
    .filter(({ valueOn, isOnLine, isUndone }) => valueOn <= balances.closesOn && !isOnLine && !isUndone)
    .map(({ entryId }) => entryId)
  return {
    balances,
    linesMinor,
    setAsideMinor: sum(within.filter(({ state }) => state === 'set aside')),
    missingMinor,
    linesWithoutEntry,
    entriesWithoutLine,
    agrees: missingMinor === 0 && linesWithoutEntry.length === 0 && entriesWithoutLine.length === 0,
  }
}
