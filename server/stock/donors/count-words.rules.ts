/** How the number of a gift came about. */
export const HOW_COUNTED = ['counted', 'about', 'not yet'] as const
export type HowCounted = (typeof HOW_COUNTED)[number]

const ABOUT = /^(?:ca\.?|circa|about|approx\.?|roughly|around|etwa|env\.?|~|≈)\s?/i
const NOT_YET = /^(?:\?+|not counted(?: yet)?|uncounted|some|a (?:bag|box|reel|lot)|many|several)$/i

/** A count as people write it: "30", "ca. 30", "~ 30", "30 or so", "?". What is none of these goes on as it is, to be refused with words. */
export function countSaid(typed: string): { quantity: string; howCounted: HowCounted } {
  const text = typed.normalize('NFKC').trim()
  if (NOT_YET.test(text)) return { quantity: '0', howCounted: 'not yet' }
  const rest = text.replace(ABOUT, '').replace(/ ?or so$/i, '')
  return { quantity: rest, howCounted: rest === text ? 'counted' : 'about' }
}

/** "30", "about 30", "not counted yet". */
export const countWords = ({ quantity, howCounted }: { quantity: number; howCounted: HowCounted }): string =>
  howCounted === 'not yet' ? 'not counted yet' : howCounted === 'about' ? `about ${quantity}` : String(quantity)

/** "30 × Display", "about 30 × Display", "Display, not counted yet". */
export const countedThing = (count: { quantity: number; howCounted: HowCounted }, what: string): string =>
  count.howCounted === 'not yet' ? `${what}, not counted yet` : `${countWords(count)} × ${what}`
