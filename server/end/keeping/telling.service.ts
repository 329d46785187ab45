import { createHash } from 'node:crypto'
import { raisedBy } from '#gifts/outcome/outcome.rules'
import { outcomesOf } from '#gifts/outcome/outcome.service'
import { donorsUntold, noteToldOfAll, postLetter } from '#gifts/outcome/sold-thanks.service'
import { civilOf } from '#kernel/civil'
import { groupBy } from '#kernel/group'
import { showMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { proceeds } from '#money/journal/proceeds.service'
import { findCampaign, getCampaign } from '#people/campaign/campaign.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { listLots } from '#sale/lots/lots.service'
import type { GiftState } from '#stock/donors/donor.contract'
import { type DonorCard, getDonor, listDonors } from '#stock/donors/donor.service'
import { listWords } from '#stock/donors/gift.rules'
import { type GiftLine, listGifts } from '#stock/donors/gift.service'
import type { NotTold, TellAllIn, TellingView, ToTell } from './keeping.contract'
import * as store from './keeping.store'
import { draftLastLetter, whyNone } from './last-letter.rules'

/** What was sent back or never came has been answered by a letter of its own. */
const NOT_TOLD: readonly GiftState[] = ['promised', 'on its way', 'declined', 'returned']

/** The last letter of each donor as the facts have it, and who gets none and why. */
export function readTelling(sight: Sight): TellingView {
  const { zone } = getCampaign(sight)
  const gifts = groupBy(
    listGifts(sight).filter(({ state }) => !NOT_TOLD.includes(state)),
    ({ donorId }) => donorId,
  )
  const told = new Map(store.listLastLetters(sight.db).map(({ donorId, at }) => [donorId, at]))
  const untold = donorsUntold(sight)
  const toTell: ToTell[] = []
  const notTold: NotTold[] = []
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
    if (why === null) toTell.push({ donorId: donor.id, name: donor.name, ...letterTo(sight, donor, own) })
    else notTold.push({ donorId: donor.id, name: donor.name, why })
  }
  return {
    toTell,
    notTold,
    told: told.size,
    refusedBecause: whyNotYet(sight),
    shown: createHash('sha256').update(JSON.stringify(toTell)).digest('hex'),
  }
}

function letterTo(sight: Sight, donor: DonorCard, gifts: readonly GiftLine[]) {
  const { name: campaign, causeName: cause, currency } = getCampaign(sight)
  const money = (minor: number) => showMoney(minor, currency)
  // A gift of money is the one amount that may be said to its giver.
  const named = gifts.map((gift) => (gift.amountMinor === null ? gift : { ...gift, what: `${money(gift.amountMinor)}, ${gift.what}` }))
  const outcomes = outcomesOf(sight, named)
  const raised = money(proceeds(sight).countedMinor)
  return draftLastLetter({ name: donor.creditName, campaign, cause, raised, ownPage: `${sight.publicUrl}/yours`, outcomes, money })
}

function whyNotYet(sight: Sight): string | null {
  const lots = listLots(sight)
  const running = lots.filter(({ state }) => state === 'open' || state === 'held')
  if (running.length > 0)
    return `${
      running.length === 1
        ? `Lot ${running[0]?.number} has`
        : `Lots ${listWords(
            running.map(({ number }) => String(number)),
            'and',
          )} have`
    } not ended yet. What the gifts in them became is told when they have.`
  if (!lots.some(({ endedAt }) => endedAt !== null)) return 'No lot has been sold yet, so there is nothing to tell.'
  return null
}

/** Each letter that was shown goes into the outbox, in one turn, and is never written again. */
export function tellAll(turn: Turn, actor: Actor, { shown }: TellAllIn): { told: number } {
  if (!findCampaign(turn)) throw Refusal.at('shown', 'There is no campaign yet.', 'conflict')
  const view = readTelling(turn)
  if (view.refusedBecause) throw Refusal.at('shown', view.refusedBecause, 'too-early')
  if (view.toTell.length === 0) throw Refusal.at('shown', 'Everybody has been told who can be.', 'conflict')
  if (view.shown !== shown) throw Refusal.at('shown', 'The list has changed since you looked. Reload the page and look again.', 'conflict')
  for (const { donorId, subject, body } of view.toTell) {
    postLetter(turn, getDonor(turn, donorId), { subject, body })
    noteToldOfAll(turn, actor, donorId)
    store.insertLastLetter(turn.db, { donorId, at: turn.now, byPersonId: actor.personId })
    turn.record({ kind: 'donor.told-last', subject: `donor:${donorId}`, body: { donorId } })
  }
  return { told: view.toTell.length }
}
