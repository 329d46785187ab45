import { boxCode } from '#bench/certificates/home.service'
import { unitRecord } from '#bench/certificates/record.service'
import { currentCertificate } from '#bench/certificates/standing.service'
import { Refusal } from '#kernel/refusal'
import { findPerson } from '#people/people/people.service'
import { needPhotograph } from '#people/photographs/photograph.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { getExtras, getLotRow, type LotRow } from '#sale/lots/lots.service'
import { countryOf } from './address.service'
import { sendingTerms } from './bands.service'
import { type PackingItem, packingItems } from './packing.rules'
import type { PackedItem, PackPhotographIn, TickIn } from './sending.contract'
import * as store from './sending.store'
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

/** What goes into the parcel of a sold lot, from the lot and the unit as they stand. */
export function toPack(sight: Sight, number: number): ToPack {
  const { buyerPersonId } = getToSend(sight, number)
  const row = getLotRow(sight, number)
  const record = unitRecord(sight, row.unitTag)
  const standing = currentCertificate(sight, row.unitId)
  const country = countryOf(sight, row.id, buyerPersonId) ?? ''
  const isAbroad = country !== '' && country !== sendingTerms(sight).homeCountry
  const { cautions, name, revision } = record.design
  const extras = row.terms?.sale.extras ?? getExtras(sight, row.id)
  const items = packingItems({
    lot: number,
    unit: row.unitTag,
    design: `${name} rev ${revision}`,
    serial: standing?.serial ?? null,
    extras,
    cautions,
    boxCode: boxCode(sight, row.unitTag),
    isAbroad,
  })
  const about = [...cautions, ...record.fitted.map(({ part }) => part), ...extras, row.terms?.sale.story ?? row.story]
  return { row, buyerPersonId, country, isAbroad, items, about, serial: standing?.serial ?? null }
}

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
  if (item === 'closed' && isPacked) {
    const out = items.filter(({ key }) => key !== 'closed' && !store.listPacked(turn.db, row.id).some((one) => one.item === key))
    if (out.length > 0)
      throw Refusal.at(
        'item',
        `Not in it yet: ${out.map(({ what }) => what).join('; ')}. Tick those before the parcel is closed.`,
        'conflict',
      )
  }
  if (isPacked) store.insertPacked(turn.db, { lotId: row.id, item, at: turn.now, byPersonId: actor.personId })
  else {
    store.deletePacked(turn.db, row.id, item)
    // What is taken out again has been through an open parcel.
    store.deletePacked(turn.db, row.id, 'closed')
  }
  turn.record({ kind: isPacked ? 'sending.packed' : 'sending.unpacked', subject: `lot:${lot}`, body: { item } })
}

export function addPackingPhotograph(turn: Turn, actor: Actor, { lot, item, sha }: PackPhotographIn): void {
  const { row, items } = toPack(turn, lot)
  needUnsent(turn, row.id)
  if (!items.some(({ key }) => key === item)) throw Refusal.at('item', 'That is not on the packing list. Reload the page.', 'not-found')
  needPhotograph(turn, sha, 'sha')
  if (store.listPackingPhotographs(turn.db, row.id).length >= MOST_PHOTOGRAPHS)
    throw Refusal.at('sha', `${MOST_PHOTOGRAPHS} photographs of one parcel are enough.`, 'too-many')
  store.insertPackingPhotograph(turn.db, { lotId: row.id, item, sha, at: turn.now, byPersonId: actor.personId })
  turn.record({ kind: 'sending.photographed', subject: `lot:${lot}`, body: { item } })
}

export function needUnsent(sight: Sight, lotId: string): void {
  if (store.findConsignment(sight.db, lotId)?.sentAt)
    throw new Refusal('too-late', 'It has left the house; what was packed stands as it is.')
}
