import type { GiftKind, GiftState } from '#stock/donors/donor.contract'
import type { LotCredits, PageCredits } from './credits.contract'

/** A gift helps from the moment it is here; what was declined, sent back or found bad does not. */
export const HELPS: readonly GiftState[] = ['arrived', 'counted', 'inspected', 'available', 'fitted', 'spare']

/** What helps all machines alike where it is tied to none of them. */
export const FOR_ALL: readonly GiftKind[] = ['labour', 'postage', 'money']

interface Given {
  id: string
  state: GiftState
}

/**
 * Whose gifts are behind a unit: those that the pieces fitted in it now came from, whatever else is said of them; what
 * was given for this unit or its design, such as a case or an afternoon's help; and the extras that go with its lot.
 */
export function behindUnit<Gift extends Given>(gifts: {
  fitted: readonly Gift[]
  withLot: readonly Gift[]
  forIt: readonly Gift[]
}): Gift[] {
  const helping = [...gifts.forIt, ...gifts.withLot].filter(({ state }) => HELPS.includes(state))
  return [...new Map([...gifts.fitted, ...helping].map((gift) => [gift.id, gift])).values()]
}

/** "We thank Ines Abreu, Tomas Berg and a friend, whose gifts are in TERN-03." */
export function thanks({ line }: Pick<PageCredits, 'line'>, inWhat: string): string {
  return line === '' ? `Nobody is named for ${inWhat} yet.` : `We thank ${line}, whose gifts are in ${inWhat}.`
}

/** Plain text for the description of a video: a paragraph for each lot, then everybody once. */
export function videoDescription(
  campaign: { name: string; causeName: string },
  lots: readonly LotCredits[],
  { all, forAll }: { all: PageCredits; forAll: PageCredits },
): string {
  const cause = campaign.causeName === '' ? '' : `, for ${campaign.causeName}`
  const paragraphs = [
    `${campaign.name}${cause}.`,
    ...lots.map((lot) => `Lot ${lot.number}, ${lot.title} (${lot.unit}). ${thanks(lot, 'it')}`),
    forAll.line === '' ? '' : `Time, postage or money for all of them: ${forAll.line}.`,
    all.line === '' ? '' : `Everyone who gave: ${all.line}.`,
    'Listed by name, the same weight for a case, a chip or an afternoon’s help.',
  ]
  return `${paragraphs.filter(Boolean).join('\n\n')}\n`
}
