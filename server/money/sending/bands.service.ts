import { csvFile, type SavedFile } from '#kernel/csv'
import type { Currency, Minor } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { readTable } from '#kernel/table'
import { findCampaign, getCampaign } from '#people/campaign/campaign.service'
import { campaignNumber } from '#people/campaign/which.service'
import { changedLines } from '#people/changes/changes.rules'
import { noteChange, noteChanges } from '#people/changes/changes.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { BAND_HEAD, type BandTyped, bandLine, bandRow, postageFromBands, readBands } from './bands.rules'
import type { Band, BandsIn, SendingTerms, TermsIn } from './sending.contract'
import * as store from './sending.store'
import { chargeableGrams, type SizeMm } from './weight.rules'

/** Common practice, no source: what holds before anybody has said otherwise. */
const AT_FIRST: SendingTerms = { homeCountry: 'GB', volumetricDivisor: 5000, answerHours: 48, addressesKeptDays: 60 }

export const sendingTerms = (sight: Sight): SendingTerms => store.findTerms(sight.db, campaignNumber(sight)) ?? AT_FIRST

export interface PostageTable {
  bands: Band[]
  terms: SendingTerms
  currency: Currency
}

export const readPostageTable = (sight: Sight): PostageTable => ({
  bands: store.listBands(sight.db, campaignNumber(sight)),
  terms: sendingTerms(sight),
  currency: getCampaign(sight).currency,
})

const termWords = ({ homeCountry, volumetricDivisor, answerHours, addressesKeptDays }: SendingTerms): Record<string, string> => ({
  'the country that parcels are sent from': homeCountry,
  'the divisor for the weight of large parcels': String(volumetricDivisor),
  'how soon a problem is answered': `${answerHours} hours`,
  'how long addresses for sending are kept': `${addressesKeptDays} days`,
})

export function saveTerms(turn: Turn, by: Actor, { homeCountry, volumetricDivisor, answerHours, addressesKeptDays }: TermsIn): void {
  const before = sendingTerms(turn)
  const terms = { homeCountry, volumetricDivisor, answerHours, addressesKeptDays }
  store.keepTerms(turn.db, campaignNumber(turn), terms)
  noteChanges(turn, by, 'terms', termWords(before), termWords(terms))
  turn.record({ kind: 'sending.terms-kept', subject: 'campaign', body: { volumetricDivisor, answerHours } })
}

/** The whole table anew. What open lots promised stays: their postage was fixed with their terms. */
export function saveBands(turn: Turn, by: Actor, { rows }: BandsIn): void {
  keepBands(
    turn,
    by,
    readBands(rows, getCampaign(turn).currency, (row, field) => `rows.${row}.${field}`),
  )
}

const COLUMNS = [
  { name: 'zone', also: ['region', 'area'], isRequired: true },
  { name: 'countries', also: ['country', 'destinations'], isRequired: true },
  { name: 'up to grams', also: ['up to', 'grams', 'weight', 'max weight'], isRequired: true },
  { name: 'postage', also: ['price', 'amount', 'cost'], isRequired: true },
]

/** The same from a table that was pasted or read from a file; one wrong row keeps all of it out. */
export function importBands(turn: Turn, by: Actor, { text }: { text: string }): { rows: number } {
  const { table, flaws } = readTable(text, COLUMNS)
  const [flaw] = flaws
  if (flaw) throw Refusal.at('text', flaw.line > 0 ? `Line ${flaw.line}: ${flaw.words}` : flaw.words)
  const rows = table.rows.map(
    ({ cells }): BandTyped => ({
      zone: cells.zone ?? '',
      countries: cells.countries ?? '',
      upTo: cells['up to grams'] ?? '',
      amount: cells.postage ?? '',
    }),
  )
  const lines = table.rows.map(({ line }) => line)
  try {
    keepBands(
      turn,
      by,
      readBands(rows, getCampaign(turn).currency, (row) => `line ${lines[row]}`),
    )
  } catch (reason) {
    if (!(reason instanceof Refusal)) throw reason
    const [field = 'text'] = Object.keys(reason.fields)
    throw Refusal.at('text', `${field.startsWith('line') ? `L${field.slice(1)}: ` : ''}${reason.message}`)
  }
  return { rows: rows.length }
}

function keepBands(turn: Turn, by: Actor, bands: Band[]): void {
  const { currency } = getCampaign(turn)
  const linesOf = (all: readonly Band[]) => all.map((band) => bandLine(band, currency))
  const changed = changedLines(linesOf(store.listBands(turn.db, campaignNumber(turn))), linesOf(bands))
  store.replaceBands(turn.db, campaignNumber(turn), bands)
  if (changed.before !== '' || changed.after !== '') noteChange(turn, by, { kind: 'postage', what: 'the table of postage', ...changed })
  turn.record({ kind: 'sending.bands-kept', subject: 'campaign', body: { rows: bands.length } })
}

export function exportBands(sight: Sight): SavedFile {
  const { bands, currency } = readPostageTable(sight)
  return csvFile(
    'postage.csv',
    BAND_HEAD,
    bands.map((band) => bandRow(band, currency)),
  )
}

/** The postage that the table gives for what is sent there; null where it has no zone or none so heavy. */
export function tablePostage(
  sight: Sight,
  country: string,
  grams: number | null,
  size: SizeMm | null,
): { zone: string; amountMinor: Minor } | null {
  if (grams === null || !findCampaign(sight)) return null
  const found = postageFromBands(
    store.listBands(sight.db, campaignNumber(sight)),
    country,
    chargeableGrams(grams, size, sendingTerms(sight).volumetricDivisor),
  )
  return found && 'zone' in found ? found : null
}

/** The next campaign begins with the terms and the postage of the one before. */
export function carrySendingTerms(turn: Turn, from: number, to: number): void {
  const terms = store.findTerms(turn.db, from)
  if (terms) store.keepTerms(turn.db, to, terms)
  store.replaceBands(turn.db, to, store.listBands(turn.db, from))
}
