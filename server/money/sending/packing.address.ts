import { Refusal } from '#kernel/refusal'
import type { PaperSize } from '#paper/paper'
import { getCampaign } from '#people/campaign/campaign.service'
import { type Address, printed, sheetAsked } from '#runtime/call/address'
import type { Sight } from '#runtime/queue/turn'
import { lotNumberIn } from '#sale/lots/lot-number.rules'
import { getLotRow } from '#sale/lots/lots.service'
import { packingOf } from './packing.service'
import type { PackingOrder } from './packing-paper'

/** The packing list of a lot, sold or not. */
export const packingAddresses: Address[] = [
  {
    path: '/bench/lots/:number/packing.pdf',
    audience: 'staff',
    answer: (sight, { number = '' }, query) =>
      printed(packingList(sight, lotNumberIn(number), sheetAsked(query)), `lot-${number}-packing.pdf`),
  },
]

export function packingList(sight: Sight, number: number, size: PaperSize): PackingOrder {
  const row = getLotRow(sight, number)
  if (row.state === 'draft') throw new Refusal('not-found', `There is no lot ${number}.`)
  const { items, cautions } = packingOf(sight, row, true)
  const { weightGrams, lengthMm, widthMm, heightMm } = row
  return {
    of: 'packing',
    lot: number,
    title: row.title || row.unitTag,
    items: items.map(({ what, note, key }) => ({ what, note: key === 'customs' ? 'only if it leaves the country' : note })),
    facts: [
      ['Weight', weightGrams === null ? 'not stated' : `${weightGrams} g without packing`],
      ['Size', lengthMm && widthMm && heightMm ? `${lengthMm} × ${widthMm} × ${heightMm} mm` : 'not stated'],
      ['Batteries and mains', 'See the cautions; carriers and countries have their own rules for cells and for mains equipment.'],
    ],
    cautions,
    size,
    author: getCampaign(sight).sellerName,
    at: row.endedAt ?? 0,
  }
}
