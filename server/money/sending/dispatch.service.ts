import { groupBy } from '#kernel/group'
import { showMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { getLotRow, type LotRow, postageTable } from '#sale/lots/lots.service'
import { isPostageByHand } from '../booking/undo.service'
import { addressesKeptUntil, countryOf, findAddress } from './address.service'
import { sendingTerms, tablePostage } from './bands.service'
import { dangerWords, hintsOfDanger } from './dangers.rules'
import { tellArrived, tellSent } from './letters.service'
import { type DispatchFacts, sendingStage, whyNotSent } from './packing.rules'
import { needUnsent, packedItems, packedSoFar, toPack } from './packing.service'
import { problemStateOf, problemsOf } from './problems.service'
import type { DispatchIn, MyParcel, PackedItem, ParcelIn, ParcelView, SendingLine, SendingView } from './sending.contract'
import * as store from './sending.store'
import { chargeableGrams, showGrams, volumetricGrams } from './weight.rules'
import { getToSend, getWon, listToSend } from './won.service'

/** What is to be sent and what has been, by the lot's number. */
export function listSending(sight: Sight): SendingLine[] {
  const packed = groupBy(store.listAllPacked(sight.db), ({ lotId }) => lotId)
  const going = new Map(store.listConsignments(sight.db).map((row) => [row.lotId, row]))
  return listToSend(sight).map((lot) => {
    const row = getLotRow(sight, lot.number)
    const buyer = lot.buyerPersonId ?? ''
    const address = findAddress(sight, row.id, buyer)
    const country = countryOf(sight, row.id, buyer) ?? ''
    const items = packedSoFar(sight, row, country, packed.get(row.id) ?? [])
    const consignment = going.get(row.id)
    const stage = sendingStage({
      owedMinor: lot.owedMinor,
      hasAddress: address !== null,
      items,
      sentAt: consignment?.sentAt ?? null,
      arrivedAt: consignment?.arrivedAt ?? null,
    })
    return {
      lot: lot.number,
      title: lot.title,
      unit: lot.unit,
      stage,
      packed: items.filter(({ isPacked }) => isPacked).length,
      items: items.length,
      country,
      sentAt: consignment?.sentAt ?? null,
      carrier: consignment?.carrier ?? '',
      problem: problemStateOf(sight, row.id),
    }
  })
}

/** One lot for whoever packs it. */
export function readSending(sight: Sight, number: number): SendingView {
  const sold = getToSend(sight, number)
  const { row, buyerPersonId, country, isAbroad, items: wanted, about, serial } = toPack(sight, number)
  const { currency, zone } = getCampaign(sight)
  const consignment = store.findConsignment(sight.db, row.id)
  const items = packedItems(sight, row.id, wanted)
  const address = findAddress(sight, row.id, buyerPersonId)
  const parcel = parcelView(sight, row, consignment)
  const table = tablePostage(sight, country, parcel.weightGrams ?? row.weightGrams, parcel.sizeMm)
  const facts = factsOf(sight, number, { items, serial })
  return {
    lot: number,
    title: sold.title,
    unit: sold.unit,
    stage: sendingStage(facts),
    currency,
    zone,
    address,
    isAbroad,
    items,
    parcel,
    dangers: dangerWords(parcel),
    hints: hintsOfDanger(about),
    postage: {
      paidMinor: sold.postageMinor,
      zone: table?.zone ?? null,
      tableMinor: table?.amountMinor ?? null,
      words: postageWords(sold.postageMinor, table, parcel, (minor) => showMoney(minor, currency)),
    },
    whyNot: facts.sentAt === null ? whyNotSent(facts) : [],
    carrier: consignment?.carrier ?? '',
    tracking: consignment?.tracking ?? '',
    trackingUrl: consignment?.trackingUrl ?? '',
    sentAt: facts.sentAt,
    arrivedAt: facts.arrivedAt,
    arrivalSaidBy: consignment?.arrivalSaidBy ?? null,
    problems: problemsOf(sight, row.id),
    owedMinor: sold.owedMinor,
    receivedMinor: sold.receivedMinor,
    now: sight.now,
  }
}

function postageWords(
  paidMinor: number,
  table: ReturnType<typeof tablePostage>,
  { chargeableGrams: grams }: ParcelView,
  show: (minor: number) => string,
): string {
  if (grams === null) return 'Weigh the parcel and the table shows its postage.'
  if (!table) return `The table has no postage for ${showGrams(grams)} to that country. Ask the carrier.`
  const by = `${table.zone}, ${showGrams(grams)}: ${show(table.amountMinor)} by the table`
  if (table.amountMinor === paidMinor) return `${by}, as the buyer paid.`
  return table.amountMinor > paidMinor
    ? `${by}; the buyer paid ${show(paidMinor)}. The difference is a sending cost.`
    : `${by}; the buyer paid ${show(paidMinor)}.`
}

function parcelView(sight: Sight, row: LotRow, consignment: store.ConsignmentRow | undefined): ParcelView {
  const weightGrams = consignment?.weightGrams ?? null
  const source = consignment?.lengthMm ? consignment : row
  const { lengthMm, widthMm, heightMm } = source
  const sizeMm: ParcelView['sizeMm'] = lengthMm && widthMm && heightMm ? [lengthMm, widthMm, heightMm] : null
  const { volumetricDivisor } = sendingTerms(sight)
  const grams = weightGrams ?? row.weightGrams
  return {
    weightGrams,
    sizeMm,
    volumetricGrams: sizeMm && volumetricGrams(sizeMm, volumetricDivisor),
    chargeableGrams: grams === null ? null : chargeableGrams(grams, sizeMm, volumetricDivisor),
    cells: consignment?.cells ?? 'unsaid',
    milliwattHours: consignment?.milliwattHours ?? null,
    mains: consignment?.mains ?? 'unsaid',
    goods: consignment?.goods || `${row.terms?.sale.title ?? row.title}, built by hand`,
    origin: consignment?.origin || sendingTerms(sight).homeCountry,
    tariffHint: consignment?.tariffHint ?? '',
  }
}

function factsOf(sight: Sight, number: number, { items, serial }: { items: readonly PackedItem[]; serial: string | null }): DispatchFacts {
  const { owedMinor, buyerPersonId } = getToSend(sight, number)
  const row = getLotRow(sight, number)
  const consignment = store.findConsignment(sight.db, row.id)
  return {
    owedMinor,
    hasAddress: findAddress(sight, row.id, buyerPersonId) !== null,
    items: items.map(({ key, packedAt }) => ({ key, isPacked: packedAt !== null })),
    wanted: items.map(({ key, what, wantsPhotograph, photographs }) => ({
      key,
      what,
      wantsPhotograph,
      hasPhotograph: photographs.length > 0,
    })),
    sentAt: consignment?.sentAt ?? null,
    arrivedAt: consignment?.arrivedAt ?? null,
    cells: consignment?.cells ?? 'unsaid',
    mains: consignment?.mains ?? 'unsaid',
    weightGrams: consignment?.weightGrams ?? null,
    serial,
  }
}

/** Weight, size, what is dangerous in it, and what the customs are told. */
export function saveParcel(turn: Turn, input: ParcelIn): void {
  getToSend(turn, input.lot)
  const { id } = getLotRow(turn, input.lot)
  needUnsent(turn, id)
  const { weightGrams, lengthMm, widthMm, heightMm, cells, mains, goods, origin, tariffHint, wattHours } = input
  const milliwattHours = wattHours === '' ? null : Math.round(Number(wattHours) * 1000)
  if (milliwattHours !== null && (milliwattHours < 1 || milliwattHours > 10_000_000))
    throw Refusal.at('wattHours', 'Write the watt-hours printed on the battery, above zero and up to 10000.')
  store.changeConsignment(turn.db, id, {
    weightGrams,
    lengthMm,
    widthMm,
    heightMm,
    cells,
    mains,
    goods,
    origin,
    tariffHint,
    milliwattHours,
  })
  turn.record({ kind: 'sending.weighed', subject: `lot:${input.lot}`, body: { weightGrams, cells, mains } })
}

/** It has left the house. Refused while anything is missing, with all that is. */
export function dispatch(turn: Turn, actor: Actor, input: DispatchIn): void {
  const { row, items, buyerPersonId, serial } = toPack(turn, input.lot)
  needUnsent(turn, row.id)
  const [first, ...more] = whyNotSent(factsOf(turn, input.lot, { items: packedItems(turn, row.id, items), serial }))
  if (first) throw new Refusal('gate-closed', [first, ...more].join(' '), { carrier: [first, ...more].join(' ') })
  const { carrier, tracking, trackingUrl } = input
  store.changeConsignment(turn.db, row.id, { carrier, tracking, trackingUrl, sentAt: turn.now, sentByPersonId: actor.personId })
  turn.record({ kind: 'sending.sent', subject: `lot:${input.lot}`, body: { number: input.lot, unit: row.unitTag } })
  tellSent(turn, { lot: input.lot, title: row.terms?.sale.title ?? row.title, buyerPersonId, carrier, tracking, trackingUrl })
}

/** It has arrived: the buyer says so, or the staff, who have it from the carrier. */
export function noteArrival(turn: Turn, actor: Actor, { lot }: { lot: number }, saidBy: 'buyer' | 'staff'): void {
  const { title, buyerPersonId } = saidBy === 'buyer' ? getWon(turn, actor, lot) : getToSend(turn, lot)
  const { id, unitTag } = getLotRow(turn, lot)
  const consignment = store.findConsignment(turn.db, id)
  if (!consignment?.sentAt) throw new Refusal('too-early', 'It has not been sent yet.')
  if (consignment.arrivedAt !== null) return
  store.changeConsignment(turn.db, id, { arrivedAt: turn.now, arrivalSaidBy: saidBy })
  turn.record({ kind: 'sending.arrived', subject: `lot:${lot}`, body: { number: lot, unit: unitTag, saidBy } })
  if (saidBy === 'staff') tellArrived(turn, { lot, title, buyerPersonId })
}

/** The buyer's own side. */
export function readMyParcel(sight: Sight, actor: Actor, number: number): MyParcel {
  const sold = getWon(sight, actor, number)
  const { row, items: wanted, serial } = toPack(sight, number)
  const items = packedItems(sight, row.id, wanted)
  const consignment = store.findConsignment(sight.db, row.id)
  return {
    stage: sendingStage(factsOf(sight, number, { items, serial })),
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
