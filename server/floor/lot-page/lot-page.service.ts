import { currentCertificate } from '#bench/certificates/standing.service'
import { tellingChecks } from '#bench/designs/telling.service'
import { getUnitRow } from '#bench/units/roster.service'
import { designOf } from '#bench/units/unit-state.service'
import type { Instant } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import { isSent } from '#money/sending/sent.service'
import { getCampaign } from '#people/campaign/campaign.service'
import { dayOf, presentDay } from '#people/campaign/stream-days.service'
import type { Sight } from '#runtime/queue/turn'
import { ladderFor } from '#sale/lots/ladder.service'
import type { Correction, LotCard, LotPhotograph, LotRecording, LotTerms, Postage, PublicLotState } from '#sale/lots/lots.contract'
import { extrasOf, getLotRow, getPhotographs, getPostage, listPublicLots } from '#sale/lots/lots.service'
import { getRecordings } from '#sale/lots/recordings.service'
import type { Ladder } from '#sale/price/ladder.rules'
import { comesTo } from '#sale/price/result.rules'

/** A lot as anybody may see it. */
export type PublicCard = Omit<LotCard, 'winnerPersonId' | 'state'> & {
  state: PublicLotState
  /** How many terminals of the strip the wire has reached, where a listed lot says it: 4 listed, 5 sold, 6 sent. */
  reached: 4 | 5 | 6 | null
}

export interface LotPage {
  card: PublicCard
  story: string
  /** What was put right after the terms were fixed; the story above stays as it was. */
  corrections: Correction[]
  extras: string[]
  photographs: LotPhotograph[]
  /** Sound and video of it running. */
  recordings: LotRecording[]
  /** Keys of the checks whose readings tell most of what it is for, in that order. */
  telling: string[]
  postage: Postage[]
  weightGrams: number | null
  sizeMm: [number, number, number] | null
  cause: { name: string; registration: string; shareBp: number }
  seller: { name: string; kind: string }
  cancelWords: string
  zone: string
  /** The stream day on which it closes. */
  stream: { opensAt: Instant; closesAt: Instant }
  /** All closings of that day in order, for the line on which this one stands. */
  closings: { number: number; title: string; at: Instant; state: PublicCard['state'] }[]
  areTermsFixed: boolean
  /** Open lots, the likest first: of the same run, then of the same design, then by what they are thought to bring. For whoever lost this one. */
  like: { number: number; title: string; closesAt: Instant }[]
  ladder: Ladder
  /** The campaign that it was in, where that is over. */
  earlier: { name: string; slug: string } | null
  now: Instant
}

export const listPublicCards = (sight: Sight): PublicCard[] => listPublicLots(sight).flatMap((card) => publicCard(sight, card))

/** All that the bidder's page says of a lot but for its record and its bids. Refuses a draft as if it were not there. */
export function readLotPage(sight: Sight, number: number): LotPage {
  const cards = listPublicCards(sight)
  const card = cards.find((one) => one.number === number)
  if (!card) throw new Refusal('not-found', `There is no lot ${number}.`)
  const row = getLotRow(sight, number)
  const campaign = getCampaign(sight)
  const fixed: LotTerms['sale'] | undefined = row.terms?.sale
  const { lengthMm, widthMm, heightMm } = row
  const ownClosing = card.endedAt ?? card.closesAt
  const day = ownClosing === null ? presentDay(sight) : dayOf(sight, ownClosing)
  return {
    card,
    story: fixed?.story ?? row.story,
    corrections: row.corrections,
    extras: extrasOf(sight, row),
    photographs: getPhotographs(sight, row.id),
    recordings: getRecordings(sight, row.id),
    telling: tellingChecks(sight, designOf(sight, getUnitRow(sight, row.unitId))),
    postage: fixed?.postage ?? getPostage(sight, row.id),
    weightGrams: row.weightGrams,
    sizeMm: lengthMm && widthMm && heightMm ? [lengthMm, widthMm, heightMm] : null,
    cause: {
      name: fixed?.cause ?? campaign.causeName,
      registration: fixed?.causeRegistration ?? campaign.causeRegistration,
      shareBp: fixed?.causeShareBp ?? campaign.causeShareBp,
    },
    seller: { name: fixed?.seller ?? campaign.sellerName, kind: fixed?.sellerKind ?? campaign.sellerKind },
    cancelWords: fixed?.cancelWords ?? campaign.cancelWords,
    zone: campaign.zone,
    stream: { opensAt: day.opensAt, closesAt: day.closesAt },
    closings: cards.flatMap(({ number: one, title, state, closesAt, endedAt }) => {
      const at = endedAt ?? closesAt
      return at === null || dayOf(sight, at).number !== day.number ? [] : [{ number: one, title, at, state }]
    }),
    areTermsFixed: fixed !== undefined,
    like: likeThis(sight, card, cards),
    ladder: ladderFor(sight, row, campaign.currency),
    earlier: campaign.endedAt === null ? null : { name: campaign.name, slug: campaign.slug },
    now: sight.now,
  }
}

const MOST_LIKE = 4

function likeThis(sight: Sight, card: PublicCard, cards: readonly PublicCard[]): LotPage['like'] {
  const own = getUnitRow(sight, card.unitId)
  const { key } = designOf(sight, own)
  const middle = ({ lowMinor, highMinor }: PublicCard) => ((lowMinor ?? 0) + (highMinor ?? 0)) / 2
  return cards
    .flatMap((one) => {
      if (one.number === card.number || one.state !== 'open' || one.closesAt === null) return []
      const unit = getUnitRow(sight, one.unitId)
      const kinship = unit.runId === own.runId ? 0 : designOf(sight, unit).key === key ? 1 : 2
      const apart = kinship === 2 ? Math.abs(middle(one) - middle(card)) : 0
      return [{ number: one.number, title: one.title, closesAt: one.closesAt, kinship, apart }]
    })
    .sort((a, b) => a.kinship - b.kinship || a.apart - b.apart || a.closesAt - b.closesAt)
    .slice(0, MOST_LIKE)
    .map(({ number, title, closesAt }) => ({ number, title, closesAt }))
}

function publicCard(sight: Sight, { winnerPersonId: _secret, state, ...card }: LotCard): PublicCard[] {
  if (state === 'draft') return []
  const reached = comesTo(card) > 0 ? (isSent(sight, card.id) ? 6 : 5) : currentCertificate(sight, card.unitId) ? 4 : null
  return [{ ...card, state, reached }]
}
