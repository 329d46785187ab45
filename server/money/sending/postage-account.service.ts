import { getCampaign } from '#people/campaign/campaign.service'
import { type Actor, once, type Sight, type Turn } from '#runtime/queue/turn'
import { getLotRow } from '#sale/lots/lots.service'
import { bookCost } from '../booking/spend.service'
import { readJournal } from '../journal/entries.service'
import type { Written } from '../journal/entry.contract'
import { lotsInWords } from '../journal/lot-words.rules'
import { sendingCosts } from '../journal/sending-costs.rules'
import { listSoldLots } from '../journal/sold.service'
import { onPaper } from '../journal/typed.service'
import { postageAccount } from './postage-account.rules'
import type { ParcelCostIn, PostageAccount } from './sending.contract'
import * as store from './sending.store'
import { inParcelOf } from './together.service'
import { getToSend } from './won.service'

/** What buyers were charged for postage beside what it really cost, parcel by parcel. */
export function readPostageAccount(sight: Sight): PostageAccount {
  const costs = sendingCosts(readJournal(sight))
  const going = new Map(store.listConsignments(sight.db).map((row) => [row.lotId, row]))
  const lots = listSoldLots(sight).flatMap(({ number, buyerPersonId, postageMinor: chargedMinor }) => {
    const { id } = getLotRow(sight, number)
    const consignment = going.get(id)
    const sentAt = consignment?.sentAt ?? null
    if (chargedMinor === 0 && sentAt === null && !costs.has(id)) return []
    const parcel = consignment?.parcel ? `${consignment.parcel} ${buyerPersonId}` : id
    return [{ lotId: id, lot: number, parcel, sentAt, chargedMinor }]
  })
  return { currency: getCampaign(sight).currency, ...postageAccount(lots, costs) }
}

/** What the carrier took for a parcel, whatever its buyers were charged: one entry for the whole of it, paid out of postage. */
export const recordParcelCost = (turn: Turn, actor: Actor, input: ParcelCostIn): Written =>
  once(turn, input.key, input, () => {
    getToSend(turn, input.lot)
    const lots = inParcelOf(turn, input.lot).map(({ sold }) => sold.number)
    const carrier = store.findConsignment(turn.db, getLotRow(turn, input.lot).id)?.carrier ?? ''
    return bookCost(turn, {
      ...onPaper(turn, actor, input),
      what: `sending ${lotsInWords(lots)}${carrier === '' ? '' : `, ${carrier}`}`,
      about: 'sending',
      bearer: 'postage',
      paidFrom: input.paidFrom,
      lot: lots[0] ?? input.lot,
    })
  })
