import type { SoldBy } from './sold.contract'

/** "lot 3", "lots 3, 5 and 9". */
export function lotsInWords(lots: readonly number[]): string {
  if (lots.length < 2) return `lot ${lots[0] ?? ''}`
  return `lots ${lots.slice(0, -1).join(', ')} and ${lots.at(-1)}`
}

/** How a lot was sold, in a sentence: "Lot 3: at auction, on 14 March 2027." */
export const SOLD_BY: Record<SoldBy, string> = {
  hammer: 'at auction',
  underbidder: 'by a contract of its own',
  'fixed price': 'at a fixed price',
}

/** What its price is called in a line. */
export const PRICE_BY: Record<SoldBy, string> = {
  hammer: 'hammer price',
  underbidder: 'price by a contract of its own',
  'fixed price': 'fixed price',
}
