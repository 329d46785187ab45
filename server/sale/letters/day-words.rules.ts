import { type Currency, type Minor, showMoney } from '#kernel/money'
import type { Words } from './letter-words.rules'

/** How a lot ended for one of its bidders. */
export type DayEnd = { number: number; title: string } & (
  | { is: 'won'; hammerMinor: Minor }
  | { is: 'lost'; hammerMinor: Minor }
  | { is: 'unsold' }
  | { is: 'voided' }
  | { is: 'withdrawn'; reason: string }
)

interface Day {
  /** "2027-03-13" */
  day: string
  currency: Currency
  publicUrl: string
  lots: readonly DayEnd[]
  /** How many are attached; null where they cannot be read. */
  receipts: number | null
}

/** To everybody who bid, once the day is over: what became of it all, and what proves it. */
export function dayLetter({ day, currency, publicUrl, lots, receipts }: Day): Words {
  const ends = lots.map((lot) => `Lot ${lot.number}, ${lot.title}: ${endOf(lot, currency)}`).join('\n')
  return {
    subject: `What became of your bids, ${day}`,
    body: `${ends}\n\n${proofOf(receipts, publicUrl)}\n\nAll your bids: ${publicUrl}/me`,
  }
}

function endOf(lot: DayEnd, currency: Currency): string {
  if (lot.is === 'won') return `you won it at ${showMoney(lot.hammerMinor, currency)}. The invoice comes separately.`
  if (lot.is === 'lost') return `it was sold at ${showMoney(lot.hammerMinor, currency)}, to somebody whose maximum was higher.`
  if (lot.is === 'unsold') return 'it was not sold because the reserve was not reached.'
  if (lot.is === 'voided') return 'your bids were voided. A separate letter gave the reason.'
  return `it was withdrawn. The reason given: ${lot.reason}`
}

function proofOf(receipts: number | null, publicUrl: string): string {
  if (receipts === null)
    return 'The receipts of your bids could not be attached because the record of one of them is damaged. The ones you were given are on the device you bid with. Please reply to this email so that we can look into it.'
  const many = receipts === 1 ? 'The receipt of your one bid is attached' : `The receipts of all your ${receipts} bids are attached`
  return `${many}. Open that file at ${publicUrl}/check: it shows what each of your bids said, and, when you press “Compare with the histories that the house shows now”, finds a history that leaves one of them out or changes it. Anyone who has the file can read your maxima, so keep it to yourself.`
}
