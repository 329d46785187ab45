import type { Minor } from '#kernel/money'

/** How a lot that was sold came out. */
export interface Result {
  hammerMinor: Minor | null
  /** What stands of the price, where that is no longer what the hammer fell at: nought once the sale fell through. */
  standsMinor?: Minor | null | undefined
}

export const fellThrough = ({ standsMinor }: Pick<Result, 'standsMinor'>): boolean => standsMinor === 0

/** What a sold lot comes to now; nought where its sale fell through. */
export const comesTo = ({ hammerMinor, standsMinor }: Result): Minor => standsMinor ?? hammerMinor ?? 0

/** "Sold for £50.00", "Sold for £45.00 after its closing", "The hammer fell at £50.00, and the sale fell through", "Sold for £45.00 in the end; the hammer fell at £50.00". */
export function soldWords(result: Result, show: (minor: Minor) => string): string {
  const fell = show(result.hammerMinor ?? 0)
  if (fellThrough(result)) return `The hammer fell at ${fell}, and the sale fell through`
  const stands = comesTo(result)
  if (result.hammerMinor === null) return `Sold for ${show(stands)} after its closing`
  return stands === result.hammerMinor ? `Sold for ${fell}` : `Sold for ${show(stands)} in the end; the hammer fell at ${fell}`
}

export const AFTERWARDS = ['', 'kept', 'given'] as const
export type Afterwards = (typeof AFTERWARDS)[number]

/** What became of a machine that nobody bought in the end. */
export const AFTERWARDS_WORDS: Record<Exclude<Afterwards, ''>, string> = {
  kept: 'The machine was not sold and stays with its maker.',
  given: 'The machine was not sold and was given away.',
}
