import type { z } from 'zod'
import { groupBy } from '#kernel/group'
import type { Instant } from '#kernel/instant'
import { showMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { listLots } from '#sale/lots/lots.service'
import { comesTo, fellThrough } from '#sale/price/result.rules'
import { type DonorCard, getDonor, listDonors } from '#stock/donors/donor.service'
import { giftsById } from '#stock/donors/gift.service'
import { postLetter } from '#stock/donors/letter.service'
import type { Draft } from '#stock/donors/letters.rules'
import { type GiftAndPrice, noteTold, notToldYet, toldOtherwise } from '#stock/donors/told.service'
import { giftsBehind } from '../credits/behind.service'
import { HELPS } from '../credits/credits.rules'
import { lotsBehind } from './outcome.rules'
import { outcomesOf } from './outcome.service'
import { draftPutRight, draftSoldThanks } from './sold-letter.rules'
import type { soldThanksIn } from './thanks.contract'
import { isOverdue } from './thanks-letter.rules'

// The second thanks: when a lot has sold, everyone with a gift in it is told what the gift became. Where a sale falls through later,
// or a price is lowered, they are told that too. Nothing is sent while a lot with gifts of theirs is open.

interface SoldGift extends GiftAndPrice {
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

/** Every gift in every lot that has ended. It begins at the lots, which are few. */
function giftsSold(sight: Sight): SoldGift[] {
  const ended = listLots(sight).filter(({ endedAt }) => endedAt !== null)
  return ended.flatMap((lot) =>
    giftsBehind(sight, lot.unitId, lot.id)
      .filter(({ state }) => HELPS.includes(state))
      .map(({ id, donorId }) => ({
        giftId: id,
        donorId,
        lotId: lot.id,
        endedAt: (lot.fixedPrice?.is === 'sold' ? lot.fixedPrice.soldAt : lot.endedAt) ?? sight.now,
        comesMinor: comesTo(lot),
        fellMinor: lot.hammerMinor ?? 0,
      })),
  )
}

/** Those of them whose sale stands and whose donor was not told yet. */
const untold = (sight: Sight): SoldGift[] =>
  notToldYet(
    sight,
    giftsSold(sight).filter(({ comesMinor }) => comesMinor > 0),
  )

/** Those whose donor was told of a price that stands no longer. */
const toPutRight = (sight: Sight) => toldOtherwise(sight, giftsSold(sight))

/** Whose gifts have been sold and who was not told how it stands, the longest waiting first; over 48 hours after the hammer is overdue. */
export function listSoldThanksDue(sight: Sight): SoldThanksWaiting[] {
  const donors = new Map(listDonors(sight).map((donor) => [donor.id, donor]))
  const numbers = new Map(listLots(sight).map(({ id, number }) => [id, number]))
  const waiting = [...untold(sight), ...toPutRight(sight).map((one) => ({ ...one, endedAt: one.toldAt }))]
  return [...groupBy(waiting, ({ donorId }) => donorId)]
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
  /** Lots of which they were told something that is so no longer. */
  putRight: number[]
  draft: Draft
  /** Lots with their gifts that have not ended. */
  stillToEnd: number[]
  /** Why the letter cannot go yet; null when it can. */
  waitsFor: string | null
}

/** The letter as the facts have it: what each gift became, what those lots raised together, and what is to be put right of an earlier one. */
export function soldThanksFor(sight: Sight, donor: DonorCard): SoldThanks | null {
  if (donor.isStandIn) return null
  const isOwn = ({ donorId }: SoldGift) => donorId === donor.id
  const own = untold(sight).filter(isOwn)
  const wrong = [
    ...new Map(
      toPutRight(sight)
        .filter(isOwn)
        .map((one) => [one.lotId, one]),
    ).values(),
  ]
  if (own.length === 0 && wrong.length === 0) return null
  const { name, causeName, currency } = getCampaign(sight)
  const lots = new Map(listLots(sight).map((lot) => [lot.id, lot]))
  const money = (minor: number) => showMoney(minor, currency)
  const outcomes = outcomesOf(sight, giftsById(sight, [...new Set([...own, ...wrong].map(({ giftId }) => giftId))]))
  const ended = new Set(own.map(({ lotId }) => lotId))
  const behind = lotsBehind(outcomes)
  const told = { name: donor.creditName, campaign: name, cause: causeName, money, ownPage: `${sight.publicUrl}/yours` }
  const changed = wrong
    .flatMap(({ lotId, toldMinor, comesMinor }) => {
      const number = lots.get(lotId)?.number
      return number === undefined ? [] : [{ lot: number, toldMinor, comesMinor }]
    })
    .sort((a, b) => a.lot - b.lot)
  const running = openLotsWith(sight, donor.id)
  return {
    lots: numbersOf(behind.filter((lot) => ended.has(lot.id) && !fellThrough(lot))),
    putRight: changed.map(({ lot }) => lot),
    stillToEnd: [...new Set([...running, ...numbersOf(behind.filter(({ state }) => state === 'ready'))])].sort((a, b) => a - b),
    waitsFor: running.length === 0 ? null : whatIsOpen(running),
    draft: own.length === 0 ? draftPutRight({ ...told, changed }) : draftSoldThanks({ ...told, outcomes, changed }),
  }
}

const numbersOf = (lots: readonly { number: number }[]): number[] => lots.map(({ number }) => number).sort((a, b) => a - b)

/** Lots that are open now and have a gift of this donor in them or with them. */
const openLotsWith = (sight: Sight, donorId: string): number[] =>
  numbersOf(
    listLots(sight).filter(
      ({ id, unitId, state }) =>
        (state === 'open' || state === 'held') &&
        giftsBehind(sight, unitId, id).some((gift) => gift.donorId === donorId && HELPS.includes(gift.state)),
    ),
  )

const whatIsOpen = (lots: readonly number[]): string =>
  lots.length === 1
    ? `Lot ${lots[0]} has gifts of theirs in it and is still open. Send the letter once it has ended.`
    : `Lots ${lots.join(', ')} have gifts of theirs in them and are still open. Send the letter once they have ended.`

/** The letter goes by email, or is noted as said by hand; told twice of one gift in one lot changes nothing. */
export function sendSoldThanks(turn: Turn, actor: Actor, input: z.output<typeof soldThanksIn>): { lots: number } {
  const donor = getDonor(turn, input.donorId)
  const own = [...untold(turn), ...toPutRight(turn)].filter(({ donorId }) => donorId === donor.id)
  if (own.length === 0) return { lots: 0 }
  if (!input.byHand) {
    const waitsFor = soldThanksFor(turn, donor)?.waitsFor
    if (waitsFor) throw Refusal.at('body', waitsFor, 'too-early')
    postLetter(turn, donor, input)
  }
  noteTold(turn, actor, own)
  const lots = new Set(own.map(({ lotId }) => lotId)).size
  turn.record({
    kind: 'donor.told',
    subject: `donor:${donor.id}`,
    body: { donorId: donor.id, told: own.map(({ giftId, lotId }) => ({ giftId, lotId })), byHand: input.byHand },
  })
  return { lots }
}

/** Notes that a donor was told of everything of theirs that has sold, as it stands, by a letter that said more. */
export const noteToldOfAll = (turn: Turn, actor: Actor, donorId: string): void =>
  noteTold(
    turn,
    actor,
    [...untold(turn), ...toPutRight(turn)].filter((one) => one.donorId === donorId),
  )

/** Who has not yet been told of something of theirs that has sold. */
export const donorsUntold = (sight: Sight): Set<string> => new Set(untold(sight).map(({ donorId }) => donorId))
