import type { Instant } from '#kernel/instant'
import { parseMoney, splitMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import { type Actor, once, type Sight, type Turn } from '#runtime/queue/turn'
import { getLotRow, type LotRow } from '#sale/lots/lots.service'
import { sayPostage } from '../booking/undo.service'
import { lotsInWords } from '../journal/lot-words.rules'
import type { SoldLot } from '../journal/sold.contract'
import { postalLines } from './postal.rules'
import type { JoinIn, ParcelPostageIn, ParcelWish, WishIn } from './sending.contract'
import * as store from './sending.store'
import { getToSend, getWon, listToSend } from './won.service'

/** One of the lots in a parcel. */
export interface InParcel {
  sold: SoldLot & { buyerPersonId: string }
  row: LotRow
}

/** What is in the parcel of a lot, that lot among it: of one buyer, and as far as the sales stand. */
export function inParcelOf(sight: Sight, number: number): InParcel[] {
  const own = getToSend(sight, number)
  const parcel = parcelOf(sight, number)
  if (parcel === null) return [{ sold: own, row: getLotRow(sight, number) }]
  return listToSend(sight)
    .filter((one): one is InParcel['sold'] => one.buyerPersonId === own.buyerPersonId)
    .flatMap((sold) => (parcelOf(sight, sold.number) === parcel ? [{ sold, row: getLotRow(sight, sold.number) }] : []))
}

const parcelOf = (sight: Sight, number: number): string | null =>
  store.findConsignment(sight.db, getLotRow(sight, number).id)?.parcel ?? null

/** What else the same buyer has that has not left and that is in no parcel with others. */
export function couldJoin(sight: Sight, number: number): SoldLot[] {
  const { buyerPersonId } = getToSend(sight, number)
  return listToSend(sight).filter((one) => {
    const consignment = store.findConsignment(sight.db, getLotRow(sight, one.number).id)
    return one.number !== number && one.buyerPersonId === buyerPersonId && !consignment?.sentAt && !consignment?.parcel
  })
}

/** What a buyer wishes of several lots: whoever sends sees it, and decides. */
export function wishParcels(turn: Turn, actor: Actor, { lot, wants }: WishIn): void {
  getWon(turn, actor, lot)
  store.keepWish(turn.db, { personId: actor.personId, wants, at: turn.now })
  turn.record({ kind: 'sending.wished', subject: `lot:${lot}`, body: { wants } })
}

/** The wish of a lot's buyer; null where they said nothing. */
export function wishOf(sight: Sight, buyerPersonId: string | null): { wants: ParcelWish; at: Instant } | null {
  const found = buyerPersonId === null ? undefined : store.findWish(sight.db, buyerPersonId)
  return found ? { wants: found.wants, at: found.at } : null
}

/** Several lots of one buyer go in one parcel, to one address. What was closed is open again. */
export function joinParcel(turn: Turn, actor: Actor, input: JoinIn): { lots: number[] } {
  return once(turn, input.key, input, () => {
    const lots = input.lots.toSorted((a, b) => a - b)
    const joined = lots.map((lot) => {
      const sold = getToSend(turn, lot)
      const row = getLotRow(turn, lot)
      const consignment = store.findConsignment(turn.db, row.id)
      if (consignment?.sentAt) throw Refusal.at('lots', `Lot ${lot} has been sent already.`, 'conflict')
      if (consignment?.parcel) throw Refusal.at('lots', `Lot ${lot} is in a parcel with other lots. Take that apart first.`, 'conflict')
      return { sold, row, address: store.findAddress(turn.db, row.id) }
    })
    const [first] = joined
    if (!first || joined.some(({ sold }) => sold.buyerPersonId !== first.sold.buyerPersonId))
      throw Refusal.at('lots', 'These lots have different buyers. A parcel goes to one of them.', 'conflict')
    const given = joined.flatMap(({ address }) => (address?.personId === first.sold.buyerPersonId ? [address] : []))
    const [address] = given
    if (new Set(given.map((one) => postalLines(one).join('\n'))).size > 1)
      throw Refusal.at(
        'lots',
        'The buyer has given different addresses for these lots. Ask them which is right; they can change it on their page.',
        'conflict',
      )
    const parcel = turn.dice.id()
    for (const { row } of joined) {
      store.changeConsignment(turn.db, row.id, { parcel, weightGrams: null, lengthMm: null, widthMm: null, heightMm: null })
      store.deletePacked(turn.db, row.id, 'closed')
      if (address) store.keepAddress(turn.db, { ...address, lotId: row.id })
    }
    turn.record({ kind: 'sending.joined', subject: `lot:${first.sold.number}`, body: { lots } })
    if (input.postage !== '') chargeParcel(turn, actor, first.sold.number, input.postage)
    return { lots }
  })
}

/** Each lot has a parcel of its own again. The postage of each stays what it is. */
export function takeApart(turn: Turn, { lot }: { lot: number }): void {
  const joined = inParcelOf(turn, lot)
  if (joined.length < 2) throw Refusal.at('lot', `Lot ${lot} is in a parcel of its own.`, 'conflict')
  if (joined.some(({ row }) => store.findConsignment(turn.db, row.id)?.sentAt))
    throw Refusal.at('lot', 'That parcel has been sent already.', 'conflict')
  for (const { row } of joined) {
    store.changeConsignment(turn.db, row.id, { parcel: null, weightGrams: null, lengthMm: null, widthMm: null, heightMm: null })
    store.deletePacked(turn.db, row.id, 'closed')
  }
  turn.record({ kind: 'sending.taken-apart', subject: `lot:${lot}`, body: { lots: joined.map(({ sold }) => sold.number) } })
}

/** The postage of the whole parcel, as whoever keeps the books says it. */
export function setParcelPostage(turn: Turn, actor: Actor, input: ParcelPostageIn): { lots: number[] } {
  return once(turn, input.key, input, () => {
    chargeParcel(turn, actor, input.lot, input.postage)
    return { lots: inParcelOf(turn, input.lot).map(({ sold }) => sold.number) }
  })
}

/**
 * Each lot bears its part of the postage, by what it was charged so far and evenly where that was nothing, so that what was paid
 * for one never pays for another while money goes back for a third.
 */
function chargeParcel(turn: Turn, actor: Actor, lot: number, typed: string): void {
  const all = inParcelOf(turn, lot)
  const total = parseMoney(typed, getCampaign(turn).currency, 'postage')
  const charged = all.map(({ sold }) => sold.postageMinor)
  const parts = splitMoney(total, charged.some((minor) => minor > 0) ? charged : all.map(() => 1))
  for (const [index, { sold }] of all.entries())
    sayPostage(turn, actor, { lot: sold.number, postageMinor: parts[index] ?? 0, memo: memoOf(sold.number, all) })
}

function memoOf(lot: number, all: readonly InParcel[]): string {
  const others = all.flatMap(({ sold }) => (sold.number === lot ? [] : [sold.number]))
  return others.length === 0 ? `Postage of lot ${lot}` : `Postage of lot ${lot}, in one parcel with ${lotsInWords(others)}`
}
