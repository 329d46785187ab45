import { type Currency, type Minor, showMoney } from '#kernel/money'
import { coverReceipts, heldForCause, remittedSoFar } from '../journal/covering.rules'
import { type JournalEntry, sumOf } from '../journal/lot-account.rules'
import type { SoldLot } from '../journal/sold.contract'
import type { Statement } from './books.contract'

export interface HammeredLot {
  id: string
  number: number
  hammerMinor: Minor
}

/**
 * Where the journal and the sale room disagree, a sentence for each place, and by how much in all.
 * Nothing is assumed to be right: the hammer prices of the lots are compared with the journal's, the
 * bank's balance with what came and went by kind, and what buyers owe with the sum over the lots.
 */
export function findVariance(
  lots: readonly HammeredLot[],
  entries: readonly JournalEntry[],
  currency: Currency,
): Pick<Statement, 'varianceMinor' | 'varianceAt'> {
  const { accounts, gifts, matched } = coverReceipts(entries)
  const places: { differs: Minor; words: string }[] = []
  const show = (amount: Minor) => showMoney(amount, currency)
  for (const lot of lots) {
    const booked = accounts.find(({ lotId }) => lotId === lot.id)?.fellAtMinor ?? 0
    if (booked !== lot.hammerMinor) {
      const words = `Lot ${lot.number}: the hammer fell at ${show(lot.hammerMinor)}, the journal has ${show(booked)}.`
      places.push({ differs: lot.hammerMinor - booked, words })
    }
  }
  for (const account of accounts) {
    // What went at a fixed price alone, no hammer fell on.
    if (account.fellAtMinor === 0 || lots.some(({ id }) => id === account.lotId)) continue
    const words = `The journal has ${show(account.fellAtMinor)} for a lot that is not sold.`
    places.push({ differs: -account.fellAtMinor, words })
  }
  const bank = sumOf(entries, 'bank')
  const fromLots = accounts.reduce((sum, account) => sum + account.receivedMinor, 0)
  const spent = 0 - sumOf(entries, 'bank', ({ kind }) => kind === 'cost' || kind === 'fee')
  const expected = fromLots + gifts.receivedMinor + matched.receivedMinor - sumOf(entries, 'unplaced') - spent - remittedSoFar(entries)
  if (bank !== expected)
    places.push({ differs: bank - expected, words: `The bank holds ${show(bank)}, receipts less payments come to ${show(expected)}.` })
  const owed = sumOf(entries, 'owed-by-buyers')
  const byLot = accounts.reduce((sum, account) => sum + account.owedMinor, 0)
  if (owed !== byLot) places.push({ differs: owed - byLot, words: `Buyers owe ${show(owed)} in the journal, ${show(byLot)} by the lots.` })
  return { varianceMinor: places.reduce((sum, { differs }) => sum + Math.abs(differs), 0), varianceAt: places.map(({ words }) => words) }
}

/** The sums of a statement, from the lots' accounts and the journal. */
export function sumStatement(lots: readonly SoldLot[], entries: readonly JournalEntry[], matchedDueMinor: Minor) {
  const total = (key: 'hammerMinor' | 'causeMinor' | 'postageMinor' | 'owedMinor') => lots.reduce((sum, lot) => sum + lot[key], 0)
  const { gifts, matched } = coverReceipts(entries)
  const isReceipt = ({ kind }: JournalEntry) => kind === 'payment' || kind === 'gift' || kind === 'matched' || kind === 'unplaced'
  return {
    hammerMinor: total('hammerMinor'),
    causeShareMinor: total('causeMinor'),
    giftMinor: gifts.receivedMinor,
    matchedMinor: matched.receivedMinor,
    matchedDueMinor,
    postageMinor: total('postageMinor'),
    costs: {
      seller: sumOf(entries, 'cost-to-seller'),
      cause: sumOf(entries, 'cost-to-cause'),
      postage: sumOf(entries, 'cost-of-sending'),
    },
    refundedMinor: 0 - sumOf(entries, 'bank', ({ kind }) => kind === 'refund'),
    unplacedMinor: 0 - sumOf(entries, 'unplaced'),
    receivedMinor: sumOf(entries, 'bank', isReceipt),
    unpaidMinor: total('owedMinor'),
    remittedMinor: remittedSoFar(entries),
    toRemitMinor: heldForCause(entries),
    bankMinor: sumOf(entries, 'bank'),
  }
}
