import { type Currency, type Minor, showMoney } from '../kernel/money'
import type { SoldLot, Statement } from './money.contract'
import { giftAccount, heldForCause, type JournalEntry, lotAccounts, remittedSoFar, sumOf } from './proceeds.rules'

export interface HammeredLot {
  id: string
  number: number
  hammerMinor: Minor
}

/**
 * Where the journal and the sale room disagree, a sentence for each place, and by how much in all.
 * Nothing is assumed to be right: the sale's own hammer prices are laid beside the journal's.
 */
export function findVariance(
  lots: readonly HammeredLot[],
  entries: readonly JournalEntry[],
  currency: Currency,
): Pick<Statement, 'varianceMinor' | 'varianceAt'> {
  const accounts = lotAccounts(entries)
  const places: { differs: Minor; words: string }[] = []
  const show = (amount: Minor) => showMoney(amount, currency)
  for (const lot of lots) {
    const booked = accounts.find(({ lotId }) => lotId === lot.id)?.hammerMinor ?? 0
    if (booked !== lot.hammerMinor) {
      const words = `Lot ${lot.number}: the hammer fell at ${show(lot.hammerMinor)}, the journal has ${show(booked)}.`
      places.push({ differs: lot.hammerMinor - booked, words })
    }
  }
  for (const account of accounts) {
    if (lots.some(({ id }) => id === account.lotId)) continue
    const words = `The journal has ${show(account.hammerMinor)} for a lot that is not sold.`
    places.push({ differs: -account.hammerMinor, words })
  }
  const bank = sumOf(entries, 'bank')
  const expected =
    accounts.reduce((sum, account) => sum + account.receivedMinor, 0) + giftAccount(entries).giftMinor - remittedSoFar(entries)
  if (bank !== expected)
    places.push({ differs: bank - expected, words: `The bank holds ${show(bank)}, receipts less remittances are ${show(expected)}.` })
  return { varianceMinor: places.reduce((sum, { differs }) => sum + Math.abs(differs), 0), varianceAt: places.map(({ words }) => words) }
}

/** The sums of a statement, from the lots' accounts and the journal. */
export function sumStatement(lots: readonly SoldLot[], entries: readonly JournalEntry[]) {
  const total = (key: 'hammerMinor' | 'causeMinor' | 'postageMinor' | 'receivedMinor' | 'owedMinor') =>
    lots.reduce((sum, lot) => sum + lot[key], 0)
  const { giftMinor } = giftAccount(entries)
  const remittedMinor = remittedSoFar(entries)
  return {
    hammerMinor: total('hammerMinor'),
    causeShareMinor: total('causeMinor'),
    giftMinor,
    postageMinor: total('postageMinor'),
    receivedMinor: total('receivedMinor') + giftMinor,
    unpaidMinor: total('owedMinor'),
    remittedMinor,
    toRemitMinor: heldForCause(entries),
  }
}
