import { createHash } from 'node:crypto'
import { giftsBehind } from '#gifts/credits/behind.service'
import { raisedBy } from '#gifts/outcome/outcome.rules'
import { outcomesOf } from '#gifts/outcome/outcome.service'
import { donorsUntold, noteToldOfAll } from '#gifts/outcome/sold-thanks.service'
import { civilOf } from '#kernel/civil'
import { groupBy } from '#kernel/group'
import { showMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { listOpenOffers } from '#money/invoices/underbidder.service'
import { proceeds } from '#money/proceeds/proceeds.service'
import { findCampaign, getCampaign } from '#people/campaign/campaign.service'
import { campaignNumber, hasEarlier, spanOf } from '#people/campaign/which.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { listLots } from '#sale/lots/lots.service'
import { nameLots } from '#sale/lots/name-lots.rules'
import type { GiftState } from '#stock/donors/donor.contract'
import { type DonorCard, getDonor, listDonors } from '#stock/donors/donor.service'
import { type GiftLine, listGifts } from '#stock/donors/gift.service'
import { postLetter } from '#stock/donors/letter.service'
import { draftLastLetter, whyNone } from './last-letter.rules'
import type { LastLettersView, LetterToSend, SendIn, WithoutLetter } from './last-letters.contract'
import * as store from './last-letters.store'

/** Gifts that did not come yet, or that were sent back: those had a letter of their own. */
const NOT_TOLD: readonly GiftState[] = ['promised', 'on its way', 'declined', 'returned']

/** The last letter of each donor as the facts have it, and who gets none and why. */
export function readLastLetters(sight: Sight): LastLettersView {
  const { zone } = getCampaign(sight)
  const isOfCampaign = giftsOfCampaign(sight)
  const gifts = groupBy(
    listGifts(sight).filter((gift) => !NOT_TOLD.includes(gift.state) && isOfCampaign(gift)),
    ({ donorId }) => donorId,
  )
  const told = new Map(store.listLastLetters(sight.db, campaignNumber(sight)).map(({ donorId, at }) => [donorId, at]))
  const untold = donorsUntold(sight)
  const toSend: LetterToSend[] = []
  const without: WithoutLetter[] = []
  for (const donor of listDonors(sight)) {
    if (donor.mergedIntoId !== null) continue
    const own = gifts.get(donor.id) ?? []
    const at = told.get(donor.id)
    const why = whyNone({
      isStandIn: donor.isStandIn,
      approved: donor.approved,
      contact: donor.contact,
      gifts: own.length,
      toldAt: at === undefined ? null : civilOf(at, zone).slice(0, 10),
      knowsAll: !untold.has(donor.id) && raisedBy(outcomesOf(sight, own)) !== null,
    })
    if (why === null) toSend.push({ donorId: donor.id, name: donor.name, ...letterTo(sight, donor, own) })
    else without.push({ donorId: donor.id, name: donor.name, why })
  }
  return {
    toSend,
    without,
    sent: told.size,
    refusedBecause: whyNotYet(sight),
    shown: createHash('sha256').update(JSON.stringify(toSend)).digest('hex'),
  }
}

/** Gifts that came in the time of the campaign, or came earlier and are behind one of its lots. */
function giftsOfCampaign(sight: Sight): (gift: Pick<GiftLine, 'id' | 'at'>) => boolean {
  if (!hasEarlier(sight)) return () => true
  const { from, to } = spanOf(sight)
  const behind = new Set(listLots(sight).flatMap(({ id, unitId }) => giftsBehind(sight, unitId, id).map((gift) => gift.id)))
  return ({ id, at }) => (at >= from && at < to) || behind.has(id)
}

function letterTo(sight: Sight, donor: DonorCard, gifts: readonly GiftLine[]) {
  const { name: campaign, causeName: cause, currency } = getCampaign(sight)
  const money = (minor: number) => showMoney(minor, currency)
  // The amount of a gift of money is the only one that a letter may name to the person who gave it.
  const named = gifts.map((gift) => (gift.amountMinor === null ? gift : { ...gift, what: `${money(gift.amountMinor)}, ${gift.what}` }))
  const outcomes = outcomesOf(sight, named)
  const raised = money(proceeds(sight).countedMinor)
  return draftLastLetter({ name: donor.creditName, campaign, cause, raised, ownPage: `${sight.publicUrl}/yours`, outcomes, money })
}

function whyNotYet(sight: Sight): string | null {
  const lots = listLots(sight)
  const running = lots.filter(({ state }) => state === 'open' || state === 'held')
  if (running.length > 0)
    return `${nameLots(running.map(({ number }) => number))} ${running.length === 1 ? 'has' : 'have'} not ended yet. You can tell donors what became of the gifts in them once they have.`
  const offered = listOpenOffers(sight)
  if (offered.length > 0)
    return `${nameLots(offered)} ${offered.length === 1 ? 'is' : 'are'} offered to the next bidder. You can tell donors once the answer is known.`
  if (!lots.some(({ endedAt }) => endedAt !== null)) return 'No lot has been sold yet, so there is nothing to tell.'
  return null
}

/** Puts each letter that was shown into the outbox, in one turn. A donor who was sent one is never sent another. */
export function sendLastLetters(turn: Turn, actor: Actor, { shown }: SendIn): { sent: number } {
  if (!findCampaign(turn)) throw Refusal.at('shown', 'There is no campaign yet.', 'conflict')
  const view = readLastLetters(turn)
  if (view.refusedBecause) throw Refusal.at('shown', view.refusedBecause, 'too-early')
  if (view.toSend.length === 0) throw Refusal.at('shown', 'Everybody who can be told has been told.', 'conflict')
  if (view.shown !== shown) throw Refusal.at('shown', 'The list has changed since you looked. Reload the page and check again.', 'conflict')
  for (const { donorId, subject, body } of view.toSend) {
    postLetter(turn, getDonor(turn, donorId), { subject, body })
    noteToldOfAll(turn, actor, donorId)
    store.insertLastLetter(turn.db, { donorId, campaignNumber: campaignNumber(turn), at: turn.now, byPersonId: actor.personId })
    turn.record({ kind: 'donor.told-last', subject: `donor:${donorId}`, body: { donorId } })
  }
  return { sent: view.toSend.length }
}
