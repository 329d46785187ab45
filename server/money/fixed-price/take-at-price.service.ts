import { certificateGap } from '#bench/certificates/gap.service'
import { countryName } from '#kernel/countries'
import { showMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import { findPaddle, findPerson } from '#people/people/people.service'
import { type Actor, once, type Sight, type Turn } from '#runtime/queue/turn'
import { TAKE_A_PADDLE, whyBarred } from '#sale/bidders/may-bid.service'
import { digestOfWhatIsSeen, whyTooLate } from '#sale/fixed-price/fixed-price.rules'
import { findStandingPrice, listFixedPrices, priceTaken } from '#sale/fixed-price/shown-price.service'
import { findShownLot, type LotRow, postageOf } from '#sale/lots/lots.service'
import { getShownRow } from '#sale/lots/shown-lot.service'
import { recordResale } from '../booking/undo.service'
import { mailInvoice } from '../invoices/invoices.service'
import { listContracts } from '../journal/contracts.service'
import type { MyPrice, PriceView, TakeAtPriceIn } from './offer-price.contract'

/** What a lot can be had for, with what the contract says; null where it cannot be had so. */
export function readPrice(sight: Sight, lot: number): PriceView | null {
  const card = findShownLot(sight, String(lot))
  const standing = card?.fixedPrice?.is === 'to be had' ? findStandingPrice(sight, card.id) : null
  return card && standing
    ? { lot, priceMinor: standing.priceMinor, currency: card.currency, lastDay: standing.lastDay, terms: standing.terms }
    : null
}

/** What a lot would cost somebody at its fixed price, and why they cannot have it so. */
export function readMyPrice(sight: Sight, actor: Actor, lot: number): MyPrice {
  const row = getShownRow(sight, lot)
  const paddle = findPaddle(sight, actor.personId)
  const barred = whyNotTheirs(sight, actor, row)
  const standing = findStandingPrice(sight, row.id)
  const postageMinor = paddle ? (postageOf(sight, row, paddle.country) ?? 0) : 0
  const last = listContracts(sight).findLast(({ lotId }) => lotId === row.id)
  return {
    isMine: last?.by === 'fixed price' && last.personId === actor.personId && last.priceMinor > 0,
    barred,
    lacksPaddle: barred === TAKE_A_PADDLE,
    postageMinor,
    country: paddle ? countryName(paddle.country) : '',
    seen: standing ? digestOfWhatIsSeen({ priceMinor: standing.priceMinor, postageMinor, terms: standing.terms }) : '',
  }
}

/** The rules that keep somebody from bidding keep them from this too; so does a sale of the same lot that ended. */
function whyNotTheirs(sight: Sight, actor: Actor, row: LotRow): string | null {
  const barred = whyBarred(sight, actor, row, findPaddle(sight, actor.personId)?.country ?? null)
  if (barred !== null) return barred
  return listContracts(sight).some(({ lotId, personId }) => lotId === row.id && personId === actor.personId)
    ? 'You bought this lot before and that sale ended, so it cannot go to you this way. Write to us if you still want it.'
    : null
}

/** Yes, by whoever is first: a contract of its own, with its invoice. Whoever comes after is told, and owes nothing. */
export function takeAtPrice(turn: Turn, actor: Actor, input: TakeAtPriceIn): { lot: number } {
  return once(turn, input.key, input, () => {
    const row = getShownRow(turn, input.lot)
    const { currency } = getCampaign(turn)
    const standing = findStandingPrice(turn, row.id)
    const [last = null] = listFixedPrices(turn, row.id)
    const late = whyTooLate({ standing, last, now: turn.now, seenMinor: input.priceMinor }, currency)
    if (late !== null || !standing) throw new Refusal('conflict', late ?? '')
    if (certificateGap(turn, row) !== null)
      throw new Refusal('conflict', 'The machine is back on the bench, so it cannot be had at the moment. You owe nothing.')
    const barred = whyNotTheirs(turn, actor, row)
    const paddle = findPaddle(turn, actor.personId)
    if (barred !== null || !paddle) throw new Refusal('not-yours-to-do', barred ?? TAKE_A_PADDLE)
    const { priceMinor, terms } = standing
    if (priceMinor > paddle.ceilingMinor)
      throw new Refusal('not-yours-to-do', `Your paddle is good for up to ${showMoney(paddle.ceilingMinor, currency)}. Ask us to raise it.`)
    const postageMinor = postageOf(turn, row, paddle.country) ?? 0
    if (digestOfWhatIsSeen({ priceMinor, postageMinor, terms }) !== input.seen)
      throw new Refusal(
        'conflict',
        'The postage, or how you can cancel, has changed since you saw it. Nothing was bought. Look at it again.',
      )
    const sale = { lot: row.number, personId: actor.personId, priceMinor, postageMinor, by: 'fixed price' } as const
    const { entryId } = recordResale(turn, actor, sale)
    priceTaken(turn, standing.id, entryId)
    turn.record({ kind: 'fixed-price.taken', subject: `lot:${row.number}`, body: { number: row.number, priceMinor } })
    mailInvoice(turn, row.number)
    tellWhoSetIt(turn, row, standing.offeredByPersonId, showMoney(priceMinor, currency))
    return { lot: row.number }
  })
}

function tellWhoSetIt(turn: Turn, { number, title }: LotRow, personId: string | null, price: string): void {
  const to = personId === null ? undefined : findPerson(turn, personId)?.email
  if (to)
    turn.post({
      to,
      subject: `Lot ${number} is sold at its fixed price`,
      body: `Somebody said yes to lot ${number}, ${title}, at ${price}. Their invoice has gone out.\n\nIts money: ${turn.publicUrl}/bench/money/${number}`,
    })
}
