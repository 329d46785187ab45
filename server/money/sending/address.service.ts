import { countryName } from '#kernel/countries'
import { DAY, earliest, type Instant } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import { lastDayEnds } from '#people/campaign/stream-days.service'
import { campaignNumber, forEveryCampaign, inEveryCampaign } from '#people/campaign/which.service'
import { findPaddle } from '#people/people/people.service'
import type { Sweep } from '#runtime/queue/ticker'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { getLotRow, getLotRowById, postageOf, postageTable } from '#sale/lots/lots.service'
import { chargePostage } from '../booking/undo.service'
import { sendingTerms } from './bands.service'
import { needsPostcode, regionOf } from './postal.rules'
import { listProblems } from './problem.store'
import type { Address, AddressIn } from './sending.contract'
import * as store from './sending.store'
import { inParcelOf } from './together.service'
import { getWon } from './won.service'

/**
 * The buyer says where it goes. It can be put right until the parcel has left. No fact and no mail ever carries it.
 * It is the address of all that is in its parcel. The postage of the sale follows where it goes, by the terms under which the lot
 * opened.
 */
export function sayAddress(turn: Turn, actor: Actor, input: AddressIn): void {
  getWon(turn, actor, input.lot)
  if (store.findConsignment(turn.db, getLotRow(turn, input.lot).id)?.sentAt)
    throw new Refusal('too-late', 'It is already on its way to the address you gave. Ask the carrier to change it.')
  const together = inParcelOf(turn, input.lot)
  for (const { row } of together) {
    if (postageTable(turn, row).length === 0) continue
    const postageMinor = postageOf(turn, row, input.country)
    if (postageMinor === null) {
      const which = together.length > 1 ? `Lot ${row.number}` : 'This lot'
      throw Refusal.at(
        'country',
        `${which} is not sent to ${countryName(input.country)}. Give an address in another country, or ask us.`,
        'conflict',
      )
    }
    chargePostage(turn, actor, { lot: row.number, postageMinor })
  }
  const region = regionOf(input.country)
  if (region?.isNeeded && input.region === '')
    throw Refusal.at('region', `Addresses in ${countryName(input.country)} need it: write the ${region.label.toLowerCase()}.`)
  if (needsPostcode(input.country) && input.postcode === '')
    throw Refusal.at('postcode', `Addresses in ${countryName(input.country)} need it: write the postcode.`)
  const { lot: _lot, ...address } = input
  for (const { row } of together) store.keepAddress(turn.db, { lotId: row.id, personId: actor.personId, ...address, at: turn.now })
  turn.record({ kind: 'sending.address-given', subject: `lot:${input.lot}`, body: { country: input.country } })
}

/** The address that the present buyer gave; one that an earlier buyer of the lot gave is not shown to anybody. */
export function findAddress(sight: Sight, lotId: string, buyerPersonId: string): Address | null {
  const row = store.findAddress(sight.db, lotId)
  if (!row || row.personId !== buyerPersonId) return null
  const { name, street, place, postcode, region, country, telephone } = row
  return { name, street, place, postcode, region, country, telephone }
}

/** The country that a sold lot goes to: where its buyer sends it, or lives. */
export const countryOf = (sight: Sight, lotId: string, buyerPersonId: string): string | undefined =>
  findAddress(sight, lotId, buyerPersonId)?.country ?? findPaddle(sight, buyerPersonId)?.country

export const addressesKeptUntil = (sight: Sight): Instant => lastDayEnds(sight) + sendingTerms(sight).addressesKeptDays * DAY

/** Addresses for lots of the campaign that is looked at. */
const listOfCampaign = (sight: Sight) =>
  store.listAddresses(sight.db).filter(({ lotId }) => getLotRowById(sight, lotId).campaignNumber === campaignNumber(sight))

/** What is still needed stays: a lot that has not arrived, or whose problem is open, keeps its address. */
const deletable = (sight: Sight) => {
  const open = new Set(listProblems(sight.db).flatMap(({ lotId, endedAt }) => (endedAt === null ? [lotId] : [])))
  return listOfCampaign(sight).filter(({ lotId }) => !open.has(lotId) && store.findConsignment(sight.db, lotId)?.arrivedAt != null)
}

/** When the term is over, the addresses of what has arrived are deleted. */
export const addressSweep: Sweep = {
  name: 'addresses of buyers',
  nextAt: (sight) => earliest(inEveryCampaign(sight, (seen) => [deletable(seen).length > 0 ? addressesKeptUntil(seen) : null])),
  run: (turn) => forEveryCampaign(turn, deleteAddresses),
}

function deleteAddresses(turn: Turn): void {
  if (turn.now < addressesKeptUntil(turn)) return
  const gone = deletable(turn)
  for (const { lotId } of gone) store.deleteAddress(turn.db, lotId)
  if (gone.length > 0) turn.record({ kind: 'sending.addresses-deleted', subject: 'campaign', body: { count: gone.length } })
}
