import type { z } from 'zod'
import { findCampaign } from '../campaign/campaign.service'
import { type DonorCard, getDonor, listDonors } from '../donors/donor.service'
import { type GiftLine, giftsOf, listGifts, noteThanked } from '../donors/gift.service'
import { type Draft, draftThanks, isOverdue } from '../donors/letters.rules'
import type { thanksIn } from '../donors/thanks.contract'
import { groupBy } from '../kernel/group'
import type { Instant } from '../kernel/instant'
import { Refusal } from '../kernel/refusal'
import { becameOf } from '../parts/became.service'
import type { Actor, Sight, Turn } from '../runtime/turn'

export interface ThanksWaiting {
  donorId: string
  donorName: string
  gifts: GiftLine[]
  since: Instant
  overdue: boolean
}

const isDue = (line: GiftLine): line is GiftLine & { arrivedAt: number } => line.arrivedAt !== null && line.thankedAt === null

/** Whose gifts came and were not thanked for yet, the longest waiting first; over 48 hours is overdue. */
export function listThanksDue(sight: Sight): ThanksWaiting[] {
  const names = new Map(listDonors(sight).map((donor) => [donor.id, donor.name]))
  const due = listGifts(sight).filter(isDue)
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
  if (due.length === 0) return null
  const draft = draftThanks({ name: donor.name, campaign: findCampaign(sight)?.name ?? '', gifts: becameOf(sight, due) })
  return { giftIds: due.map((line) => line.id), draft }
}

/** Thanks go out by mail, or are noted as said by hand. Thanking twice for one gift does nothing the second time. */
export function sendThanks(turn: Turn, actor: Actor, input: z.output<typeof thanksIn>): { thanked: number } {
  const donor = getDonor(turn, input.donorId)
  const due = giftsOf(turn, donor.id).filter((line) => isDue(line) && input.giftIds.includes(line.id))
  if (due.length === 0) return { thanked: 0 }
  if (!input.byHand) {
    if (donor.contact === '') throw Refusal.at('body', `No mail address is known for ${donor.name}. Thank them by hand and note it.`)
    if (input.subject === '') throw Refusal.at('subject', 'Write a subject.')
    if (input.body === '') throw Refusal.at('body', 'Write the letter.')
    turn.post({ to: donor.contact, subject: input.subject, body: input.body })
  }
  noteThanked(turn, due)
  turn.record({
    kind: 'donor.thanked',
    subject: `donor:${donor.id}`,
    body: { donorId: donor.id, giftIds: due.map((line) => line.id), byHand: input.byHand, byPersonId: actor.personId },
  })
  return { thanked: due.length }
}
