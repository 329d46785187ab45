import { DAY } from '#kernel/instant'
import { showMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import { lookAtCampaign } from '#people/campaign/which.service'
import { findPaddle, findPerson } from '#people/people/people.service'
import { type Actor, once, type Sight, type Turn } from '#runtime/queue/turn'
import { whyBarred } from '#sale/bidders/may-bid.service'
import { rankedBids } from '#sale/bids/bids.service'
import { findStandingPrice } from '#sale/fixed-price/shown-price.service'
import { saidByLetter } from '#sale/letters/notices.service'
import { findLotOfUnit, getLotRow, getLotRowById, type LotRow, postageOf } from '#sale/lots/lots.service'
import { reachesReserve } from '#sale/price/price.rules'
import { recordResale, reverseSale } from '../booking/undo.service'
import { getSoldLot } from '../journal/sold.service'
import type { AnswerOfferIn, NextUnderbidder, OfferIn, OfferTerms, OfferView } from './invoices.contract'
import { contractTerms, mailInvoice, paymentTerms } from './invoices.service'
import * as store from './invoices.store'

interface Candidate {
  personId: string
  name: string
  paddle: number | null
  country: string
  priceMinor: number
  postageMinor: number
}

/**
 * Who comes next: whoever bid most after those who had it, at their own highest bid. Never the staff, nor whoever priced
 * or tested the machine, nor whoever said that they are connected with it, nor whose bids were voided.
 */
function findUnderbidder(sight: Sight, row: LotRow): { next: Candidate | null; passedOver: NextUnderbidder['passedOver'] } {
  const had = new Set([getSoldLot(sight, row.number).buyerPersonId, row.winnerPersonId])
  const asked = new Set(store.listOffersOfLot(sight.db, row.id).map(({ personId }) => personId))
  const passedOver: NextUnderbidder['passedOver'] = []
  for (const { personId, maximumMinor } of rankedBids(sight, row.id)) {
    if (had.has(personId) || asked.has(personId)) continue
    const person = findPerson(sight, personId)
    const paddle = findPaddle(sight, personId)
    const why = person ? whyBarred(sight, { personId, role: person.role }, row, paddle?.country ?? null) : 'This person is no longer here.'
    const name = person?.name ?? ''
    if (why !== null || !paddle) {
      passedOver.push({ name, why: why ?? 'They have no paddle.' })
      continue
    }
    if (!reachesReserve({ reserveMinor: row.reserve?.amountMinor ?? null }, { maximumMinor })) {
      passedOver.push({ name, why: 'Their highest bid is below the reserve.' })
      continue
    }
    const postageMinor = postageOf(sight, row, paddle.country) ?? 0
    return { next: { personId, name, paddle: paddle.number, country: paddle.country, priceMinor: maximumMinor, postageMinor }, passedOver }
  }
  return { next: null, passedOver }
}

/** For the treasurer, before anything is offered. */
export function readUnderbidder(sight: Sight, number: number): NextUnderbidder & { offers: OfferView[] } {
  const row = getLotRow(sight, number)
  const { next, passedOver } = findUnderbidder(sight, row)
  const { account, buyerPersonId } = getSoldLot(sight, number)
  return {
    first:
      account.hammerMinor > 0 && buyerPersonId !== null
        ? { name: findPerson(sight, buyerPersonId)?.name ?? '', paidMinor: account.receivedMinor }
        : null,
    next: next && { name: next.name, paddle: next.paddle, priceMinor: next.priceMinor, postageMinor: next.postageMinor },
    passedOver,
    offers: store.listOffersOfLot(sight.db, row.id).map((offer) => offerView(sight, offer)),
  }
}

/** Ends the sale that was not paid, where it still stands, and offers the lot to whoever comes next as a new contract. */
export function offerToUnderbidder(turn: Turn, actor: Actor, input: OfferIn): { offerId: string } {
  return once(turn, input.key, input, () => {
    const row = getLotRow(turn, input.lot)
    lapseOffer(turn, row)
    if (store.findOpenOffer(turn.db, row.id))
      throw new Refusal('conflict', 'An offer for this lot is open. Wait for its answer, or take it back.')
    if (findStandingPrice(turn, row.id))
      throw Refusal.at('lot', `Lot ${input.lot} can be had by anybody at a fixed price. Take that back first.`, 'conflict')
    const { account, buyerPersonId } = getSoldLot(turn, input.lot)
    if (account.hammerMinor > 0 && account.owedMinor <= 0) throw Refusal.at('lot', `Lot ${input.lot} is paid: its sale stands.`, 'conflict')
    const { next, passedOver } = findUnderbidder(turn, row)
    if (!next) {
      const why = passedOver.map((one) => `${one.name}: ${one.why}`).join(' ')
      throw Refusal.at(
        'lot',
        `There is nobody left to offer it to. ${why} Let the sale fall through, and put the unit in a new lot.`,
        'conflict',
      )
    }
    if (account.hammerMinor > 0) {
      reverseSale(turn, actor, { key: `${input.key}-ended`, lot: input.lot, why: input.why })
      tellEnded(turn, row, { personId: buyerPersonId, why: input.why, paidMinor: account.receivedMinor })
    }
    const terms: OfferTerms = { ...contractTerms(turn, row), country: next.country }
    const offer = {
      id: turn.dice.id(),
      lotId: row.id,
      personId: next.personId,
      priceMinor: next.priceMinor,
      postageMinor: next.postageMinor,
      terms,
      madeAt: turn.now,
      madeByPersonId: actor.personId,
      openUntil: turn.now + paymentTerms(turn).offerOpenDays * DAY,
    }
    store.insertOffer(turn.db, offer)
    turn.record({ kind: 'offer.made', subject: `lot:${input.lot}`, body: { number: input.lot } })
    tellOffer(turn, row, offer)
    return { offerId: offer.id }
  })
}

/** The one who was asked says yes or no, until the offer's last instant. Yes makes a contract of its own, and its invoice. */
export function answerOffer(turn: Turn, actor: Actor, input: AnswerOfferIn): { accepted: boolean } {
  return once(turn, input.key, input, () => {
    const offer = store.findOffer(turn.db, input.offerId)
    if (!offer || offer.personId !== actor.personId) throw new Refusal('not-found', 'There is no such offer to you.')
    if (offer.answer !== null) throw new Refusal('conflict', 'That offer has been answered.')
    if (turn.now >= offer.openUntil) throw new Refusal('too-late', 'The offer is over. Write to the bench if you still want it.')
    const row = getLotRowById(turn, offer.lotId)
    lookAtCampaign(turn, row.campaignNumber)
    if (input.accepts) {
      const barred = whyBarred(turn, actor, row, findPaddle(turn, actor.personId)?.country ?? null)
      if (barred !== null) throw new Refusal('not-yours-to-do', barred)
      const now = findLotOfUnit(turn, row.unitId)?.number ?? row.number
      if (now !== row.number)
        throw new Refusal('conflict', `The machine has been put into lot ${now} since, so it cannot go to you this way. You owe nothing.`)
    }
    store.answerOffer(turn.db, offer.id, input.accepts ? 'accepted' : 'declined', turn.now)
    turn.record({ kind: input.accepts ? 'offer.accepted' : 'offer.declined', subject: `lot:${row.number}`, body: { number: row.number } })
    if (input.accepts) {
      const { priceMinor, postageMinor, personId } = offer
      recordResale(turn, actor, { lot: row.number, personId, priceMinor, postageMinor, by: 'underbidder' })
      mailInvoice(turn, row.number)
    }
    return { accepted: input.accepts }
  })
}

export function takeBackOffer(turn: Turn, { offerId }: { offerId: string }): void {
  const offer = store.findOffer(turn.db, offerId)
  if (!offer) throw new Refusal('not-found', 'There is no such offer.')
  if (offer.answer !== null) throw new Refusal('conflict', 'That offer has been answered.')
  store.answerOffer(turn.db, offer.id, 'taken back', turn.now)
  const row = getLotRowById(turn, offer.lotId)
  turn.record({ kind: 'offer.taken-back', subject: `lot:${row.number}`, body: { number: row.number } })
  const to = findPerson(turn, offer.personId)?.email
  if (to)
    turn.post({
      to,
      subject: `The offer of lot ${row.number} was taken back`,
      body: `You had not answered it, and you owe nothing.\n\nThe lots: ${turn.publicUrl}/`,
    })
}

/** Whether somebody can still say yes to one. */
export const isOffered = (sight: Sight, lotId: string): boolean => {
  const open = store.findOpenOffer(sight.db, lotId)
  return open !== undefined && sight.now < open.openUntil
}

/** An offer whose last instant has passed counts as declined, so that another can be made. */
export function lapseOffer(turn: Turn, row: LotRow): void {
  const open = store.findOpenOffer(turn.db, row.id)
  if (open && turn.now >= open.openUntil) store.answerOffer(turn.db, open.id, 'declined', turn.now)
}

/** Lots that are offered to the next bidder and wait for an answer. */
export const listOpenOffers = (sight: Sight): number[] =>
  store
    .listUnanswered(sight.db)
    .filter(({ openUntil }) => sight.now < openUntil)
    .map(({ lotId }) => getLotRowById(sight, lotId).number)
    .sort((a, b) => a - b)

export const listMyOffers = (sight: Sight, actor: Actor): OfferView[] =>
  store.listOffersTo(sight.db, actor.personId).map((offer) => offerView(sight, offer))

function offerView(sight: Sight, offer: store.OfferRow): OfferView {
  const { currency, zone } = getCampaign(sight)
  const { id, terms, priceMinor, postageMinor, openUntil, answer, answeredAt } = offer
  const lot = getLotRowById(sight, offer.lotId).number
  return { id, lot, terms, priceMinor, postageMinor, currency, openUntil, answer, answeredAt, isOver: sight.now >= openUntil, zone }
}

function tellEnded(
  turn: Turn,
  row: LotRow,
  { personId, why, paidMinor }: { personId: string | null; why: string; paidMinor: number },
): void {
  const to = personId === null ? undefined : findPerson(turn, personId)?.email
  if (personId === null || !to) return
  saidByLetter(turn, personId, row.id)
  turn.post({
    to,
    subject: `The sale of lot ${row.number} has ended`,
    body: `You won lot ${row.number}, ${row.terms?.sale.title ?? row.title}, and it was not paid in time, so this sale has ended. The reason given: ${why}\n\nYou owe nothing for it any more. ${
      paidMinor > 0
        ? `The ${showMoney(paidMinor, getCampaign(turn).currency)} that you paid is owed back to you and will be refunded; reply to this email if it has not arrived, or if it is to go elsewhere.`
        : 'We have received nothing for it. Should a payment of yours be on its way, it will be refunded.'
    }`,
  })
}

function tellOffer(
  turn: Turn,
  row: LotRow,
  offer: { personId: string; priceMinor: number; postageMinor: number; openUntil: number; terms: OfferTerms },
): void {
  const to = findPerson(turn, offer.personId)?.email
  if (!to) return
  const { currency, zone } = getCampaign(turn)
  const until = new Date(offer.openUntil).toLocaleString('en-GB', { timeZone: zone, dateStyle: 'long', timeStyle: 'short' })
  const show = (minor: number) => showMoney(minor, currency)
  turn.post({
    to,
    subject: `Lot ${row.number} could be yours: ${offer.terms.title}`,
    body: `The sale of lot ${row.number} was not completed, and you were the next highest bidder. It is offered to you at your own highest bid, ${show(offer.priceMinor)}, with ${show(offer.postageMinor)} postage, in aid of ${offer.terms.cause}.\n\nThis is a new contract with its own terms; you are free to decline. Answer by ${until} (${zone}): ${turn.publicUrl}/me/offers\n\nIf you do nothing, it lapses and costs you nothing.`,
  })
}
