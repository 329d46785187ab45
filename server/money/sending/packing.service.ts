import { boxCode } from '#bench/certificates/home.service'
import { unitRecord } from '#bench/certificates/record.service'
import { currentCertificate } from '#bench/certificates/standing.service'
import { Refusal } from '#kernel/refusal'
import { findPerson } from '#people/people/people.service'
import { needPhotograph } from '#people/photographs/photograph.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { extrasOf, getLotRow, type LotRow } from '#sale/lots/lots.service'
import { countryOf } from './address.service'
import { sendingTerms } from './bands.service'
import { type PackingItem, packingItems, packingKeys, SHARED_ITEMS } from './packing.rules'
import type { PackedItem, PackPhotographIn, TickIn } from './sending.contract'
import * as store from './sending.store'
import { type InParcel, inParcelOf } from './together.service'
import { getToSend } from './won.service'

const MOST_PHOTOGRAPHS = 30

export interface ToPack {
  row: LotRow
  buyerPersonId: string
  country: string
  isAbroad: boolean
  items: PackingItem[]
  /** What is known of the machine, for hints of what is dangerous in it. */
  about: string[]
  serial: string | null
}

/** What goes into the parcel of a lot, sold or not, from the lot and from its unit as it stands. */
export function packingOf(sight: Sight, row: LotRow, isAbroad: boolean) {
  const record = unitRecord(sight, row.unitTag)
  const serial = currentCertificate(sight, row.unitId)?.serial ?? null
  const { cautions, name, revision } = record.design
  const extras = extrasOf(sight, row)
  const items = packingItems({
    lot: row.number,
    unit: row.unitTag,
    design: `${name} rev ${revision}`,
    serial,
    extras,
    cautions,
    boxCode: boxCode(sight, row.unitTag),
    isAbroad,
  })
  return { items, serial, extras, cautions, parts: record.fitted.map(({ part }) => part) }
}

/** What goes into the parcel of a sold lot, and where it goes. */
export function toPack(sight: Sight, number: number): ToPack {
  const { buyerPersonId } = getToSend(sight, number)
  const row = getLotRow(sight, number)
  const country = countryOf(sight, row.id, buyerPersonId) ?? ''
  const isAbroad = leavesTheCountry(sight, country)
  const { items, serial, extras, cautions, parts } = packingOf(sight, row, isAbroad)
  const about = [...cautions, ...parts, ...extras, row.terms?.sale.story ?? row.story]
  return { row, buyerPersonId, country, isAbroad, items, about, serial }
}

/** Of each thing that goes into the parcel of a lot to a country, whether it is in it. */
export function packedSoFar(
  sight: Sight,
  row: LotRow,
  country: string,
  packed: readonly { item: string }[],
): { key: string; isPacked: boolean }[] {
  const keys = packingKeys({ extras: extrasOf(sight, row), isAbroad: leavesTheCountry(sight, country) })
  return keys.map((key) => ({ key, isPacked: packed.some(({ item }) => item === key) }))
}

const leavesTheCountry = (sight: Sight, country: string): boolean => country !== '' && country !== sendingTerms(sight).homeCountry

export function packedItems(sight: Sight, lotId: string, items: readonly PackingItem[]): PackedItem[] {
  const packed = store.listPacked(sight.db, lotId)
  const photographs = store.listPackingPhotographs(sight.db, lotId)
  const nameOf = (personId: string | null) => (personId === null ? '' : (findPerson(sight, personId)?.name ?? ''))
  return items.map((item) => {
    const tick = packed.find((one) => one.item === item.key)
    return {
      ...item,
      packedAt: tick?.at ?? null,
      packedBy: tick ? nameOf(tick.byPersonId) : null,
      photographs: photographs
        .filter((one) => one.item === item.key)
        .map(({ sha, at, byPersonId }) => ({ sha, at, by: nameOf(byPersonId) })),
    }
  })
}

/** One thing is in the parcel, or out of it again. Nothing is packed before it is paid: a parcel half packed invites to be sent. */
export function tickItem(turn: Turn, actor: Actor, { lot, item, isPacked }: TickIn): void {
  const { row, items } = toPack(turn, lot)
  needUnsent(turn, row.id)
  const found = items.find(({ key }) => key === item)
  if (!found) throw Refusal.at('item', 'That is not on the packing list. Reload the page.', 'not-found')
  if (getToSend(turn, lot).owedMinor > 0) throw Refusal.at('item', `Lot ${lot} is not paid in full. Pack it once it is.`, 'conflict')
  const together = inParcelOf(turn, lot)
  if (item === 'closed' && isPacked) {
    const out = together.flatMap((one) => stillOut(turn, one, together.length > 1))
    if (out.length > 0) throw Refusal.at('item', `Not in it yet: ${out.join('; ')}. Tick those before the parcel is closed.`, 'conflict')
  }
  const lotIds = SHARED_ITEMS.includes(item) ? together.map((one) => one.row.id) : [row.id]
  for (const lotId of lotIds) {
    if (isPacked) store.insertPacked(turn.db, { lotId, item, at: turn.now, byPersonId: actor.personId })
    else store.deletePacked(turn.db, lotId, item)
  }
  // What is taken out again has been through an open parcel.
  if (!isPacked) for (const one of together) store.deletePacked(turn.db, one.row.id, 'closed')
  turn.record({ kind: isPacked ? 'sending.packed' : 'sending.unpacked', subject: `lot:${lot}`, body: { item } })
}

/** What of a lot is not in its parcel yet, in words. */
function stillOut(sight: Sight, { sold, row }: InParcel, isNamed: boolean): string[] {
  const packed = new Set(store.listPacked(sight.db, row.id).map(({ item }) => item))
  return toPack(sight, sold.number).items.flatMap(({ key, what }) =>
    key === 'closed' || packed.has(key) ? [] : [isNamed ? `lot ${sold.number}, ${what}` : what],
  )
}

export function addPackingPhotograph(turn: Turn, actor: Actor, { lot, item, sha }: PackPhotographIn): void {
  const { row, items } = toPack(turn, lot)
  needUnsent(turn, row.id)
  if (!items.some(({ key }) => key === item)) throw Refusal.at('item', 'That is not on the packing list. Reload the page.', 'not-found')
  needPhotograph(turn, sha, 'sha')
  if (store.listPackingPhotographs(turn.db, row.id).length >= MOST_PHOTOGRAPHS)
    throw Refusal.at('sha', `${MOST_PHOTOGRAPHS} photographs are the most for one parcel.`, 'too-many')
  const lotIds = SHARED_ITEMS.includes(item) ? inParcelOf(turn, lot).map((one) => one.row.id) : [row.id]
  for (const lotId of lotIds) store.insertPackingPhotograph(turn.db, { lotId, item, sha, at: turn.now, byPersonId: actor.personId })
  turn.record({ kind: 'sending.photographed', subject: `lot:${lot}`, body: { item } })
}

export function needUnsent(sight: Sight, lotId: string): void {
  if (store.findConsignment(sight.db, lotId)?.sentAt)
    throw new Refusal('too-late', 'It has been sent; the packing list can no longer be changed.')
}
