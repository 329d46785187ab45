import { groupBy } from '#kernel/group'
import { showMoney } from '#kernel/money'
import { getCampaign } from '#people/campaign/campaign.service'
import type { Actor, Sight } from '#runtime/queue/turn'
import { getLotRow, type LotRow } from '#sale/lots/lots.service'
import type { SoldLot } from '../journal/sold.contract'
import { countryOf, findAddress } from './address.service'
import { sendingTerms, tablePostage } from './bands.service'
import { dangerWords, hintsOfDanger } from './dangers.rules'
import { sendingStage } from './packing.rules'
import { packedSoFar, toPack } from './packing.service'
import { readFacts, whyParcelStays } from './parcel-facts.service'
import { readPostageAccount } from './postage-account.service'
import { problemStateOf, problemsOf } from './problems.service'
import type { ParcelView, SendingLine, SendingView } from './sending.contract'
import * as store from './sending.store'
import { couldJoin, type InParcel, inParcelOf, wishOf } from './together.service'
import { chargeableGrams, showGrams, volumetricGrams } from './weight.rules'
import { getToSend, listToSend } from './won.service'

/** What is to be sent and what has been, by the lot's number. */
export function listSending(sight: Sight): SendingLine[] {
  const packed = groupBy(store.listAllPacked(sight.db), ({ lotId }) => lotId)
  const going = new Map(store.listConsignments(sight.db).map((row) => [row.lotId, row]))
  const all = listToSend(sight).map((lot) => ({ lot, parcel: going.get(getLotRow(sight, lot.number).id)?.parcel ?? null }))
  const besideOf = (number: number, buyer: string | null, parcel: string | null) =>
    parcel === null
      ? []
      : all.flatMap(({ lot, parcel: other }) =>
          other === parcel && lot.buyerPersonId === buyer && lot.number !== number ? [lot.number] : [],
        )
  const isFree = (number: number) => {
    const consignment = going.get(getLotRow(sight, number).id)
    return !consignment?.sentAt && !consignment?.parcel
  }
  const wishedWith = ({ number, buyerPersonId }: SoldLot, consignment: store.ConsignmentRow | undefined) =>
    consignment?.sentAt || consignment?.parcel || wishOf(sight, buyerPersonId)?.wants !== 'one'
      ? []
      : all.flatMap(({ lot: other }) =>
          other.number !== number && other.buyerPersonId === buyerPersonId && isFree(other.number) ? [other.number] : [],
        )
  return all.map(({ lot }) => {
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
      beside: besideOf(lot.number, lot.buyerPersonId, consignment?.parcel ?? null),
      wishedWith: wishedWith(lot, consignment),
    }
  })
}

/** One lot for whoever packs it, or answers for it: only whoever sends sees where it goes. */
export function readSending(sight: Sight, number: number, { role }: Pick<Actor, 'role'> = { role: 'maker' }): SendingView {
  const sold = getToSend(sight, number)
  const { row, buyerPersonId, country, isAbroad, about } = toPack(sight, number)
  const { currency, zone } = getCampaign(sight)
  const consignment = store.findConsignment(sight.db, row.id)
  const seesAddress = role !== 'treasurer'
  const together = inParcelOf(sight, number)
  const parcel = parcelView(sight, together, row, consignment)
  const table = tablePostage(sight, country, grossGrams(together, parcel), parcel.sizeMm)
  const { packed, ...facts } = readFacts(sight, number)
  const paidMinor = together.reduce((sum, one) => sum + one.sold.postageMinor, 0)
  return {
    lot: number,
    title: sold.title,
    unit: sold.unit,
    stage: sendingStage(facts),
    currency,
    zone,
    address: seesAddress ? findAddress(sight, row.id, buyerPersonId) : null,
    seesAddress,
    beside: together.filter((one) => one.sold.number !== number).map(({ sold: one }) => besideLot(one)),
    couldJoin: facts.sentAt === null && together.length === 1 ? couldJoin(sight, number).map(besideLot) : [],
    wish: wishOf(sight, buyerPersonId),
    isAbroad,
    items: packed,
    parcel,
    dangers: dangerWords(parcel),
    hints: hintsOfDanger(about),
    postage: {
      paidMinor,
      zone: table?.zone ?? null,
      tableMinor: table?.amountMinor ?? null,
      words: postageWords(paidMinor, table, parcel, (minor) => showMoney(minor, currency)),
      ownMinor: sold.postageMinor,
      costMinor: readPostageAccount(sight).parcels.find(({ lots }) => lots.includes(number))?.costMinor ?? null,
    },
    whyNot: facts.sentAt === null ? whyParcelStays(sight, number) : [],
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

const besideLot = ({ number, title, postageMinor }: SoldLot) => ({ lot: number, title, postageMinor })

/** What a parcel weighs: as it was weighed, or as its lots say of themselves; null where one of them does not. */
function grossGrams(together: readonly InParcel[], { weightGrams }: Pick<ParcelView, 'weightGrams'>): number | null {
  if (weightGrams !== null) return weightGrams
  const own = together.map(({ row }) => row.weightGrams)
  return own.some((grams) => grams === null) ? null : own.reduce<number>((sum, grams) => sum + (grams ?? 0), 0)
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
  if (table.amountMinor === paidMinor) return `${by}, as the buyer is charged.`
  return table.amountMinor > paidMinor
    ? `${by}; the buyer is charged ${show(paidMinor)}. The difference is a sending cost.`
    : `${by}; the buyer is charged ${show(paidMinor)}.`
}

const NO_SIZE = { lengthMm: null, widthMm: null, heightMm: null }

function parcelView(sight: Sight, together: readonly InParcel[], row: LotRow, consignment: store.ConsignmentRow | undefined): ParcelView {
  const weightGrams = consignment?.weightGrams ?? null
  // A lot's own size is that of the machine: it says nothing of a parcel with others in it.
  const source = consignment?.lengthMm ? consignment : together.length === 1 ? row : NO_SIZE
  const { lengthMm, widthMm, heightMm } = source
  const sizeMm: ParcelView['sizeMm'] = lengthMm && widthMm && heightMm ? [lengthMm, widthMm, heightMm] : null
  const { volumetricDivisor } = sendingTerms(sight)
  const grams = grossGrams(together, { weightGrams })
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
    netGrams: consignment?.netGrams ?? row.weightGrams,
    tariffHint: consignment?.tariffHint ?? '',
  }
}
