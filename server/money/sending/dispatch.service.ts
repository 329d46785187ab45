import { Refusal } from '#kernel/refusal'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { getLotRow, postageTable } from '#sale/lots/lots.service'
import { isPostageByHand } from '../booking/undo.service'
import { addressesKeptUntil, findAddress } from './address.service'
import { sendingTerms } from './bands.service'
import { tellArrived, tellSent } from './letters.service'
import { sendingStage } from './packing.rules'
import { needUnsent } from './packing.service'
import { readFacts, whyParcelStays } from './parcel-facts.service'
import { problemsOf } from './problems.service'
import type { DispatchIn, MyParcel, ParcelIn } from './sending.contract'
import * as store from './sending.store'
import { couldJoin, type InParcel, inParcelOf, wishOf } from './together.service'
import { getWon } from './won.service'

/** Weight and size of the parcel, whatever is in it; of this lot what is dangerous in it, and what the customs are told. */
export function saveParcel(turn: Turn, input: ParcelIn): void {
  const together = inParcelOf(turn, input.lot)
  const { id } = getLotRow(turn, input.lot)
  needUnsent(turn, id)
  const { weightGrams, lengthMm, widthMm, heightMm, cells, mains, goods, origin, tariffHint, netGrams, wattHours } = input
  const milliwattHours = wattHours === '' ? null : Math.round(Number(wattHours) * 1000)
  if (milliwattHours !== null && (milliwattHours < 1 || milliwattHours > 10_000_000))
    throw Refusal.at('wattHours', 'Write the watt-hours printed on the battery, above zero and up to 10000.')
  if (netGrams !== null && netGrams > weightGrams)
    throw Refusal.at('netGrams', 'The goods cannot weigh more than the parcel with its packing. Check both.')
  for (const { row } of together) store.changeConsignment(turn.db, row.id, { weightGrams, lengthMm, widthMm, heightMm })
  store.changeConsignment(turn.db, id, { cells, mains, goods, origin, netGrams, tariffHint, milliwattHours })
  turn.record({ kind: 'sending.weighed', subject: `lot:${input.lot}`, body: { weightGrams, cells, mains } })
}

/** It has left the house. Refused while anything is missing, with all that is. */
export function dispatch(turn: Turn, actor: Actor, input: DispatchIn): void {
  const together = inParcelOf(turn, input.lot)
  for (const { row } of together) needUnsent(turn, row.id)
  const [first, ...more] = whyParcelStays(turn, input.lot)
  if (first) throw new Refusal('gate-closed', [first, ...more].join(' '), { carrier: [first, ...more].join(' ') })
  const { carrier, tracking, trackingUrl } = input
  for (const { row } of together) {
    store.changeConsignment(turn.db, row.id, { carrier, tracking, trackingUrl, sentAt: turn.now, sentByPersonId: actor.personId })
    turn.record({ kind: 'sending.sent', subject: `lot:${row.number}`, body: { number: row.number, unit: row.unitTag } })
  }
  tellSent(turn, { ...letterOf(together), carrier, tracking, trackingUrl })
}

/** It has arrived: the buyer says so, or the staff, who have it from the carrier. */
export function noteArrival(turn: Turn, actor: Actor, { lot }: { lot: number }, saidBy: 'buyer' | 'staff'): void {
  if (saidBy === 'buyer') getWon(turn, actor, lot)
  const together = inParcelOf(turn, lot)
  const consignment = store.findConsignment(turn.db, getLotRow(turn, lot).id)
  if (!consignment?.sentAt) throw new Refusal('too-early', 'It has not been sent yet.')
  if (consignment.arrivedAt !== null) return
  for (const { row } of together) {
    store.changeConsignment(turn.db, row.id, { arrivedAt: turn.now, arrivalSaidBy: saidBy })
    turn.record({ kind: 'sending.arrived', subject: `lot:${row.number}`, body: { number: row.number, unit: row.unitTag, saidBy } })
  }
  if (saidBy === 'staff') tellArrived(turn, letterOf(together))
}

/** Whom a letter about a parcel goes to, and what is in it. */
function letterOf(together: readonly InParcel[]) {
  const lots = together.map(({ sold }) => sold.number)
  return { lots, title: together.map(({ sold }) => sold.title).join('; '), buyerPersonId: together[0]?.sold.buyerPersonId ?? '' }
}

/** The buyer's own side. */
export function readMyParcel(sight: Sight, actor: Actor, number: number): MyParcel {
  const sold = getWon(sight, actor, number)
  const row = getLotRow(sight, number)
  const { packed: items, ...facts } = readFacts(sight, number)
  const consignment = store.findConsignment(sight.db, row.id)
  return {
    stage: sendingStage(facts),
    beside: inParcelOf(sight, number).flatMap((one) => (one.sold.number === number ? [] : [one.sold.number])),
    couldJoin: facts.sentAt === null ? couldJoin(sight, number).map((one) => one.number) : [],
    wish: wishOf(sight, sold.buyerPersonId)?.wants ?? null,
    address: findAddress(sight, row.id, sold.buyerPersonId),
    postage: { chargedMinor: sold.postageMinor, isByHand: isPostageByHand(sight, row.id), table: postageTable(sight, row) },
    carrier: consignment?.carrier ?? '',
    tracking: consignment?.tracking ?? '',
    trackingUrl: consignment?.trackingUrl ?? '',
    sentAt: consignment?.sentAt ?? null,
    arrivedAt: consignment?.arrivedAt ?? null,
    packed: items.filter(({ packedAt }) => packedAt !== null).length,
    items: items.length,
    problems: problemsOf(sight, row.id).filter(({ notes }) => notes.length > 0),
    answerHours: sendingTerms(sight).answerHours,
    addressesKeptUntil: addressesKeptUntil(sight),
  }
}
