import { certificateGap } from '#bench/certificates/gap.service'
import { civilDayOf, instantsOf } from '#kernel/civil'
import { showMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import { noteChange } from '#people/changes/changes.service'
import { type Actor, once, type Sight, type Turn } from '#runtime/queue/turn'
import { whyNotOffered } from '#sale/fixed-price/fixed-price.rules'
import { changePrice, endPrice, type FixedPriceRow, findStandingPrice, setPrice } from '#sale/fixed-price/shown-price.service'
import type { LotCard } from '#sale/lots/lots.contract'
import { changeLot, findLotOfUnit, getLotRow, type LotRow, listLots, postageTable } from '#sale/lots/lots.service'
import { contractTerms } from '../invoices/invoices.service'
import { isOffered, lapseOffer } from '../invoices/underbidder.service'
import { hasStandingSale, listSoldLots } from '../journal/sold.service'
import { typedAmount } from '../journal/typed.service'
import { today } from '../journal/value-day.rules'
import type { PriceDesk, SetPriceIn, TakePriceBackIn } from './offer-price.contract'

/** Every lot that has ended and that nobody has now, with its price if it has one, or why it can have none. */
export function listPriceDesks(sight: Sight): PriceDesk[] {
  const sold = new Set(listSoldLots(sight).flatMap(({ number, state }) => (state === 'fell through' ? [] : [number])))
  return listLots(sight).flatMap((card): PriceDesk[] => {
    if (!hasEnded(card) || sold.has(card.number)) return []
    const row = getLotRow(sight, card.number)
    const standing = findStandingPrice(sight, row.id)
    return [
      {
        lot: card.number,
        title: card.title,
        currency: card.currency,
        whyNot: whyNot(sight, row, false),
        standing: standing && { priceMinor: standing.priceMinor, lastDay: standing.lastDay },
        cancelWords: standing?.terms.cancelWords ?? contractTerms(sight, row).cancelWords,
      },
    ]
  })
}

const hasEnded = ({ state }: Pick<LotCard, 'state'>): boolean => state === 'sold' || state === 'unsold' || state === 'withdrawn'

function whyNot(sight: Sight, row: LotRow, isSold: boolean): string | null {
  const latest = findLotOfUnit(sight, row.unitId)?.number ?? row.number
  return whyNotOffered({
    number: row.number,
    state: row.state,
    isSold,
    isOffered: isOffered(sight, row.id),
    newLot: latest === row.number ? null : latest,
    gap: certificateGap(sight, row),
    hasPostage: postageTable(sight, row).length > 0,
  })
}

/** Offers a lot at a fixed price to whoever says yes first, or changes what it is offered at as long as nobody has. */
export function offerAtPrice(turn: Turn, actor: Actor, input: SetPriceIn): { lot: number } {
  return once(turn, input.key, input, () => {
    const row = getLotRow(turn, input.lot)
    const why = whyNot(turn, row, hasStandingSale(turn, row.id))
    if (why !== null) throw Refusal.at('lot', why, 'conflict')
    lapseOffer(turn, row)
    if (row.afterwards !== '') changeLot(turn, row.id, { afterwards: '' })
    const to = {
      priceMinor: typedAmount(turn, input.amount),
      ...lastDayOf(turn, input.lastDay),
      terms: { ...contractTerms(turn, row), cancelWords: input.cancelWords },
    }
    const standing = findStandingPrice(turn, row.id)
    if (standing) changePrice(turn, standing.id, to)
    else setPrice(turn, { id: turn.dice.id(), lotId: row.id, offeredAt: turn.now, offeredByPersonId: actor.personId, ...to })
    note(turn, actor, row, { before: standing, after: to })
    turn.record({
      kind: standing ? 'fixed-price.changed' : 'fixed-price.offered',
      subject: `lot:${row.number}`,
      body: { number: row.number, priceMinor: to.priceMinor },
    })
    return { lot: row.number }
  })
}

export function takePriceBack(turn: Turn, actor: Actor, input: TakePriceBackIn): { lot: number } {
  return once(turn, input.key, input, () => {
    const row = getLotRow(turn, input.lot)
    const standing = findStandingPrice(turn, row.id)
    if (!standing) {
      const words = hasStandingSale(turn, row.id)
        ? `Somebody has said yes already: lot ${row.number} is sold.`
        : `Lot ${row.number} is not offered at a fixed price.`
      throw Refusal.at('lot', words, 'conflict')
    }
    endPrice(turn, standing.id, 'taken back')
    note(turn, actor, row, { before: standing, after: null })
    turn.record({ kind: 'fixed-price.taken-back', subject: `lot:${row.number}`, body: { number: row.number } })
    return { lot: row.number }
  })
}

/** The day that was typed and the instant at which it is over, in the campaign's zone. */
function lastDayOf(turn: Turn, typed: string): Pick<FixedPriceRow, 'lastDay' | 'openUntil'> {
  if (typed === '') return { lastDay: null, openUntil: null }
  const { zone } = getCampaign(turn)
  const [noon] = /^\d{4}-\d{2}-\d{2}$/.test(typed) ? instantsOf(`${typed}T12:00`, zone) : []
  if (noon === undefined)
    throw Refusal.at('lastDay', `There is no day ${typed}. Write it like ${today(turn.now, zone)}, or leave it empty.`)
  if (typed < today(turn.now, zone)) throw Refusal.at('lastDay', `${typed} is over. Write today or a later day, or leave it empty.`)
  return { lastDay: typed, openUntil: civilDayOf(noon, zone).to }
}

type Said = Pick<FixedPriceRow, 'priceMinor' | 'lastDay' | 'terms'> | null

function note(turn: Turn, actor: Actor, { number }: LotRow, { before, after }: { before: Said; after: Said }): void {
  const { currency } = getCampaign(turn)
  const differs = (what: string, words: (said: NonNullable<Said>) => string) => {
    const [was, is] = [before, after].map((said) => (said === null ? '' : words(said)))
    if (was !== undefined && is !== undefined && was !== is) noteChange(turn, actor, { kind: 'terms', what, before: was, after: is })
  }
  differs(
    `the fixed price of lot ${number}`,
    ({ priceMinor, lastDay }) => `${showMoney(priceMinor, currency)}${lastDay === null ? '' : `, until ${lastDay}`}`,
  )
  // What stands in a first offer, or in one that is taken back, is no change of it.
  if (before && after) differs(`how a buyer of lot ${number} at its fixed price can cancel`, ({ terms }) => terms.cancelWords)
}
