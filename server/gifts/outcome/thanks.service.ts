import type { z } from 'zod'
import { groupBy } from '#kernel/group'
import type { Instant } from '#kernel/instant'
import { findCampaign } from '#people/campaign/campaign.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import type { GiftState } from '#stock/donors/donor.contract'
import { type DonorCard, getDonor, listDonors } from '#stock/donors/donor.service'
import { type GiftLine, giftsOf, listGifts, noteThanked } from '#stock/donors/gift.service'
import { postLetter } from '#stock/donors/letter.service'
import type { Draft } from '#stock/donors/letters.rules'
import { becameOf } from './became.service'
import type { thanksIn } from './thanks.contract'
import { draftThanks, isOverdue } from './thanks-letter.rules'

export interface ThanksWaiting {
  donorId: string
  donorName: string
  gifts: GiftLine[]
  since: Instant
  overdue: boolean
}

const isDue = (line: GiftLine): line is GiftLine & { arrivedAt: number } =>
  line.arrivedAt !== null && line.thankedAt === null && !SENT_BACK.includes(line.state)

/** What was given back was answered by a letter of its own. */
const SENT_BACK: readonly GiftState[] = ['returned', 'declined']

/** Whose gifts came and were not thanked for yet, the longest waiting first; over 48 hours is overdue. */
export function listThanksDue(sight: Sight): ThanksWaiting[] {
  // Whoever stands in for an unknown sender cannot be thanked before it is known who that was.
  const names = new Map(listDonors(sight).flatMap((donor) => (donor.isStandIn ? [] : [[donor.id, donor.name]])))
  const due = listGifts(sight).filter((line) => isDue(line) && names.has(line.donorId)) as (GiftLine & { arrivedAt: number })[]
  return [...groupBy(due, (line) => line.donorId)]
    .map(([donorId, gifts]) => {
      const since = Math.min(...gifts.map((line) => line.arrivedAt))
      return { donorId, donorName: names.get(donorId) ?? '', gifts, since, overdue: isOverdue({ arrivedAt: since }, sight.now) }
    })
    .sort((a, b) => a.since - b.since)
}

/** The letter as the facts have it; the staff may change it before it goes. */
export function thanksFor(sight: Sight, donor: DonorCard): { giftIds: string[]; draft: Draft } | null {
  const due = giftsOf(sight, donor.id).filter(isDue)
  if (due.length === 0 || donor.isStandIn) return null
  const draft = draftThanks({ name: donor.name, campaign: findCampaign(sight)?.name ?? '', gifts: becameOf(sight, due) })
  return { giftIds: due.map((line) => line.id), draft }
}

/** Thanks go out by email, or are noted as said by hand. Thanking twice for one gift does nothing the second time. */
export function sendThanks(turn: Turn, actor: Actor, input: z.output<typeof thanksIn>): { thanked: number } {
  const donor = getDonor(turn, input.donorId)
  const due = giftsOf(turn, donor.id).filter((line) => isDue(line) && input.giftIds.includes(line.id))
  if (due.length === 0) return { thanked: 0 }
  if (!input.byHand) postLetter(turn, donor, input)
  noteThanked(turn, due)
  turn.record({
    kind: 'donor.thanked',
    subject: `donor:${donor.id}`,
    body: { donorId: donor.id, giftIds: due.map((line) => line.id), byHand: input.byHand, byPersonId: actor.personId },
  })
  return { thanked: due.length }
}
