import type { z } from 'zod'
import { groupBy } from '#kernel/group'
import type { Instant } from '#kernel/instant'
import { showMoney } from '#kernel/money'
import { getCampaign } from '#people/campaign/campaign.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import type { LotCard } from '#sale/lots/lots.contract'
import { listLots } from '#sale/lots/lots.service'
import { type DonorCard, getDonor, listDonors } from '#stock/donors/donor.service'
import { giftsById } from '#stock/donors/gift.service'
import { postLetter } from '#stock/donors/letter.service'
import type { Draft } from '#stock/donors/letters.rules'
import { type GiftInLot, noteTold, notToldYet } from '#stock/donors/told.service'
import { giftsBehind } from '../credits/behind.service'
import { HELPS } from '../credits/credits.rules'
import { lotsBehind } from './outcome.rules'
import { outcomesOf } from './outcome.service'
import { draftSoldThanks } from './sold-letter.rules'
import type { soldThanksIn } from './thanks.contract'
import { isOverdue } from './thanks-letter.rules'

// The second thanks: when a lot has sold, everyone with a gift in it is told what the gift became.

interface SoldGift extends GiftInLot {
  donorId: string
  endedAt: Instant
}

export interface SoldThanksWaiting {
  donorId: string
  donorName: string
  lots: number[]
  since: Instant
  overdue: boolean
}

/** Every gift in every sold lot whose donor was not told yet. It begins at the lots, which are few. */
function untold(sight: Sight): SoldGift[] {
  const sold = listLots(sight).filter(({ state, hammerMinor }) => state === 'sold' && hammerMinor !== null)
  const pairs = sold.flatMap((lot: LotCard) =>
    giftsBehind(sight, lot.unitId, lot.id)
      .filter(({ state }) => HELPS.includes(state))
      .map(({ id, donorId }) => ({ giftId: id, donorId, lotId: lot.id, endedAt: lot.endedAt ?? sight.now })),
  )
  return notToldYet(sight, pairs)
}

/** Whose gifts have been sold and who was not told, the longest waiting first; over 48 hours after the hammer is overdue. */
export function listSoldThanksDue(sight: Sight): SoldThanksWaiting[] {
  const donors = new Map(listDonors(sight).map((donor) => [donor.id, donor]))
  const numbers = new Map(listLots(sight).map(({ id, number }) => [id, number]))
  return [...groupBy(untold(sight), ({ donorId }) => donorId)]
    .flatMap(([donorId, pairs]) => {
      const donor = donors.get(donorId)
      if (!donor || donor.isStandIn) return []
      const since = Math.min(...pairs.map(({ endedAt }) => endedAt))
      const lots = [...new Set(pairs.flatMap(({ lotId }) => numbers.get(lotId) ?? []))].sort((a, b) => a - b)
      return [{ donorId, donorName: donor.name, lots, since, overdue: isOverdue({ arrivedAt: since }, sight.now) }]
    })
    .sort((a, b) => a.since - b.since)
}

export interface SoldThanks {
  lots: number[]
  draft: Draft
  /** Lots with their gifts that have not ended: the letter may wait for them. */
  stillToEnd: number[]
}

/** The letter as the facts have it: what each gift became, and what those lots raised together. */
export function soldThanksFor(sight: Sight, donor: DonorCard): SoldThanks | null {
  const own = untold(sight).filter(({ donorId }) => donorId === donor.id)
  if (own.length === 0 || donor.isStandIn) return null
  const campaign = getCampaign(sight)
  const outcomes = outcomesOf(sight, giftsById(sight, [...new Set(own.map(({ giftId }) => giftId))]))
  const ended = new Set(own.map(({ lotId }) => lotId))
  const behind = lotsBehind(outcomes)
  return {
    lots: numbersOf(behind.filter(({ id }) => ended.has(id))),
    stillToEnd: numbersOf(behind.filter(({ state }) => state === 'open' || state === 'held' || state === 'ready')),
    draft: draftSoldThanks({
      name: donor.creditName,
      campaign: campaign.name,
      cause: campaign.causeName,
      outcomes,
      money: (minor) => showMoney(minor, campaign.currency),
      ownPage: `${sight.publicUrl}/yours`,
    }),
  }
}

const numbersOf = (lots: readonly { number: number }[]): number[] => lots.map(({ number }) => number).sort((a, b) => a - b)

/** The letter goes by email, or is noted as said by hand; told twice of one gift in one lot changes nothing. */
export function sendSoldThanks(turn: Turn, actor: Actor, input: z.output<typeof soldThanksIn>): { lots: number } {
  const donor = getDonor(turn, input.donorId)
  const own = untold(turn).filter(({ donorId }) => donorId === donor.id)
  if (own.length === 0) return { lots: 0 }
  if (!input.byHand) postLetter(turn, donor, input)
  noteTold(turn, actor, own)
  const lots = new Set(own.map(({ lotId }) => lotId)).size
  turn.record({
    kind: 'donor.told',
    subject: `donor:${donor.id}`,
    body: { donorId: donor.id, told: own.map(({ giftId, lotId }) => ({ giftId, lotId })), byHand: input.byHand },
  })
  return { lots }
}

/** Notes that a donor was told of everything of theirs that has sold, by a letter that said more. */
export const noteToldOfAll = (turn: Turn, actor: Actor, donorId: string): void =>
  noteTold(
    turn,
    actor,
    untold(turn).filter((one) => one.donorId === donorId),
  )

/** Who has not yet been told of something of theirs that has sold. */
export const donorsUntold = (sight: Sight): Set<string> => new Set(untold(sight).map(({ donorId }) => donorId))
