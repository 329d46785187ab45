import type { GiftState } from '../donors/donor.contract'
import type { CampaignCredits, LotCredits, PageCredits } from './credits.contract'

/** A gift helps from the moment it is here; what was declined, sent back or found bad does not. */
const HELPS: readonly GiftState[] = ['arrived', 'counted', 'inspected', 'available', 'fitted', 'spare']

export interface GiftBehind {
  donorId: string
  state: GiftState
  onlyForUnitId: string | null
  onlyForDesignId: string | null
}

/**
 * Whose gifts are behind a unit: those that the pieces fitted in it now came from, and what was given
 * for this unit or its design: a case, a board, an afternoon's help.
 */
export function donorsBehind(
  unit: { id: string; designId: string },
  fittedFrom: readonly GiftBehind[],
  all: readonly GiftBehind[],
): string[] {
  const forIt = all.filter(
    ({ state, onlyForUnitId, onlyForDesignId }) =>
      HELPS.includes(state) && (onlyForUnitId === unit.id || onlyForDesignId === unit.designId),
  )
  return [...new Set([...fittedFrom, ...forIt].map(({ donorId }) => donorId))]
}

/** Everyone who gave anything that is here, whatever it was. */
export const donorsOfAll = (all: readonly GiftBehind[]): string[] => [
  ...new Set(all.filter(({ state }) => HELPS.includes(state)).map(({ donorId }) => donorId)),
]

/** "We thank Ines Abreu, Tomas Berg and a friend, whose gifts are in TERN-03." */
export function thanks({ line }: Pick<PageCredits, 'line'>, inWhat: string): string {
  return line === '' ? `Nobody is named for ${inWhat} yet.` : `We thank ${line}, whose gifts are in ${inWhat}.`
}

/** Plain text for the description of a video: a paragraph for each lot, then everybody once. */
export function videoDescription(
  campaign: { name: string; causeName: string },
  lots: readonly LotCredits[],
  all: PageCredits,
): CampaignCredits['text'] {
  const cause = campaign.causeName === '' ? '' : `, for ${campaign.causeName}`
  const paragraphs = [
    `${campaign.name}${cause}.`,
    ...lots.map((lot) => `Lot ${lot.number}, ${lot.title} (${lot.unit}). ${thanks(lot, 'it')}`),
    all.line === '' ? '' : `Everyone who gave: ${all.line}.`,
    'Listed by name, the same weight for a case, a chip or an afternoon’s help.',
  ]
  return `${paragraphs.filter(Boolean).join('\n\n')}\n`
}
