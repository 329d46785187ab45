import { type Cell, csvFile, type SavedFile } from '#kernel/csv'
import { type Instant, toIso } from '#kernel/instant'
import { plainMoney } from '#kernel/money'
import { getCampaign } from '#people/campaign/campaign.service'
import type { Sight } from '#runtime/queue/turn'
import { listDonors } from '#stock/donors/donor.service'
import { listGifts } from '#stock/donors/gift.service'
import type { Exported } from './export.contract'
import { everyParcel } from './parcel.service'

interface Table {
  head: string[]
  rows: Cell[][]
}

/** A list of the people's rooms as a table for the staff, in instants of UTC; nothing in it is run by a spreadsheet. */
export function exportTable(sight: Sight, what: Exported): SavedFile {
  const { head, rows } = TABLES[what](sight)
  return csvFile(`${what}-${toIso(sight.now).slice(0, 10)}.csv`, head, rows)
}

const when = (at: Instant | null): string => (at === null ? '' : toIso(at))

function donorTable(sight: Sight): Table {
  const head = ['donor', 'name', 'credit name', 'how to say it', 'mail', 'shown as', 'page', 'stream', 'card', 'approved', 'since']
  const rows = listDonors(sight).map(({ id, name, creditName, sayIt, contact, anonymity, consents, approved, at }) => {
    const { page, stream, card } = consents
    return [id, name, creditName, sayIt, contact, anonymity, page, stream, card, approved, when(at)]
  })
  return { head, rows }
}

function giftTable(sight: Sight): Table {
  const lines = listGifts(sight)
  const currency = lines.some(({ amountMinor }) => amountMinor !== null) ? getCampaign(sight).currency : null
  const names = new Map(listDonors(sight).map(({ id, name }) => [id, name]))
  const head = [
    'gift',
    'donor',
    'name',
    'kind',
    'what',
    'quantity',
    'minutes',
    'amount',
    'currency',
    'state',
    'promised',
    'came',
    'thanked',
  ]
  const rows = lines.map((line) => {
    const { id, donorId, kind, what, quantity, minutes, amountMinor, state, promisedAt, arrivedAt, thankedAt } = line
    const amount = amountMinor === null || currency === null ? ['', ''] : [plainMoney(amountMinor, currency), currency]
    const stages = [state, when(promisedAt), when(arrivedAt), when(thankedAt)]
    return [id, donorId, names.get(donorId) ?? '', kind, what, quantity, minutes, ...amount, ...stages]
  })
  return { head, rows }
}

function parcelTable(sight: Sight): Table {
  const head = ['parcel', 'came', 'donor', 'name', 'note', 'gift', 'what', 'quantity', 'state', 'batch']
  const rows = everyParcel(sight).flatMap(({ id, arrivedAt, donorId, donorName, note, lines }) =>
    lines.map((line) => [id, when(arrivedAt), donorId, donorName, note, line.id, line.what, line.quantity, line.state, line.batchCode]),
  )
  return { head, rows }
}

const TABLES: Record<Exported, (sight: Sight) => Table> = { donors: donorTable, gifts: giftTable, parcels: parcelTable }
