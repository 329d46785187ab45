import { type Currency, type Minor, showMoney } from '#kernel/money'
import { nameLots } from '../lots/name-lots.rules'
import type { Words } from './letter-words.rules'

/** How a lot ended for somebody who did not win it. */
export type DayEnd = { number: number; title: string } & (
  | { is: 'lost'; hammerMinor: Minor }
  | { is: 'unsold' }
  | { is: 'withdrawn'; reason: string }
)

interface Day {
  /** "13 March 2027" */
  day: string
  currency: Currency
  publicUrl: string
  /** What no letter has told yet. */
  lots: readonly DayEnd[]
  /** Lots of which a letter of their own has said how they ended: an invoice, a void, a loss some hours ago. */
  toldBefore: readonly number[]
  /** How many are attached; null where they cannot be read. */
  receipts: number | null
}

/** To everybody who bid, once the day is over: what became of it all, and what proves it. */
export function dayLetter({ day, currency, publicUrl, lots, toldBefore, receipts }: Day): Words {
  const ends = lots.map((lot) => `Lot ${lot.number}, ${lot.title}: ${endOf(lot, currency)}`).join('\n')
  const before = toldBefore.length === 0 ? '' : `We have already written to you about ${nameLots(toldBefore).replace(/^L/, 'l')}.`
  return {
    subject: lots.length > 0 ? `What became of your bids on ${day}` : `The receipts of your bids, ${day}`,
    body: [ends, before, proofOf(receipts, publicUrl), `All your bids: ${publicUrl}/me`].filter((part) => part !== '').join('\n\n'),
  }
}

function endOf(lot: DayEnd, currency: Currency): string {
  if (lot.is === 'lost')
    return `it was sold at ${showMoney(lot.hammerMinor, currency)}, to somebody whose maximum was higher. You owe nothing for it.`
  if (lot.is === 'unsold') return 'it was not sold because the reserve was not reached. You owe nothing for it.'
  return `it was withdrawn, so nobody owes anything for it. The reason given: ${lot.reason}`
}

function proofOf(receipts: number | null, publicUrl: string): string {
  if (receipts === null)
    return 'The receipts of your bids could not be attached because the record of one of them is damaged. The ones you were given are on the device you bid with. Please reply to this email so that we can look into it.'
  const many = receipts === 1 ? 'The receipt for your bid is attached' : `The receipts of all ${receipts} of your bids are attached`
  return `${many}. Open that file at ${publicUrl}/check: it shows what each of your bids said, and, when you press “Compare with the histories that the house shows now”, finds a history that leaves one of them out or changes it. Anyone who has the file can read your maxima, so keep it to yourself.`
}
