import { type Currency, type Minor, parseMoney, plainMoney, showMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import type { Postage } from '#sale/lots/lots.contract'
import { EVERYWHERE_ELSE, readCountries, showCountries } from '#sale/lots/postage.rules'
import type { Band } from './sending.contract'
import { showGrams } from './weight.rules'

export const BAND_HEAD = ['zone', 'countries', 'up to grams', 'postage'] as const

/** One row of the table as typed or read from a file. */
export interface BandTyped {
  zone: string
  countries: string
  upTo: string
  amount: string
}

/**
 * Reads the whole table. A zone is named once with its countries and may go on in further rows with them left empty;
 * heavier never costs less within a zone, and a country stands in one zone only. `at` names a row's field.
 */
export function readBands(rows: readonly BandTyped[], currency: Currency, at: (row: number, field: keyof BandTyped) => string): Band[] {
  const bands: Band[] = []
  for (const [row, typed] of rows.entries()) {
    if (Object.values(typed).every((cell) => cell.trim() === '')) continue
    const zone = typed.zone.trim() || (bands.at(-1)?.zone ?? '')
    if (zone === '') throw Refusal.at(at(row, 'zone'), 'Name the zone, such as "Europe".')
    const known = bands.find((band) => band.zone === zone)
    const countries = typed.countries.trim() === '' && known ? known.countries : readCountries(typed.countries, at(row, 'countries'))
    if (known && known.countries.join() !== countries.join())
      throw Refusal.at(at(row, 'countries'), `${zone} has different countries above. Leave them empty here, or name another zone.`)
    const taken = known ? undefined : countries.find((code) => bands.some((band) => band.countries.includes(code)))
    if (taken)
      throw Refusal.at(at(row, 'countries'), `${taken === EVERYWHERE_ELSE ? 'Everywhere else' : taken} is already in a zone above.`)
    const upToGrams = readGrams(typed.upTo, at(row, 'upTo'))
    const amountMinor = parseMoney(typed.amount, currency, at(row, 'amount'))
    const before = bands.findLast((band) => band.zone === zone)
    if (before && before.upToGrams >= upToGrams)
      throw Refusal.at(at(row, 'upTo'), `The row above reaches ${before.upToGrams} g already. List the rows of a zone from light to heavy.`)
    if (before && before.amountMinor > amountMinor)
      throw Refusal.at(at(row, 'amount'), 'A heavier parcel costs less here than a lighter one. Check both.')
    bands.push({ zone, countries, upToGrams, amountMinor })
  }
  return bands
}

/** "2000", "2000 g", "2 kg", "2,5 kg". */
function readGrams(text: string, field: string): number {
  const match = /^(\d+)(?:[.,](\d{1,3}))?\s*(k?g)?$/i.exec(text.normalize('NFKC').trim())
  const isKilograms = match?.[3]?.toLowerCase() === 'kg'
  if (!match || (match[2] !== undefined && !isKilograms)) throw Refusal.at(field, 'Write a weight, such as 2000 g or 2.5 kg.')
  const grams = isKilograms ? Number(match[1]) * 1000 + Number((match[2] ?? '').padEnd(3, '0')) : Number(match[1])
  if (grams < 1 || grams > 1_000_000) throw Refusal.at(field, 'Write a weight from 1 g to 1000 kg.')
  return grams
}

export type BandFound = { zone: string; amountMinor: Minor } | { heaviestGrams: number } | null

/** What the table says for a country and a chargeable weight: its price, the heaviest that its zone takes, or null where it names no zone. */
export function postageFromBands(bands: readonly Band[], country: string, grams: number): BandFound {
  const zone =
    bands.find(({ countries }) => countries.includes(country)) ?? bands.find(({ countries }) => countries.includes(EVERYWHERE_ELSE))
  if (!zone) return null
  const ofZone = bands.filter((band) => band.zone === zone.zone)
  const fitting = ofZone.find(({ upToGrams }) => grams <= upToGrams)
  if (fitting) return { zone: fitting.zone, amountMinor: fitting.amountMinor }
  return { heaviestGrams: Math.max(...ofZone.map(({ upToGrams }) => upToGrams)) }
}

/** A lot's lines of postage out of the table; zones that do not take such a weight are left out and named. */
export function linesForLot(bands: readonly Band[], grams: number): { lines: Postage[]; tooHeavyFor: string[] } {
  const zones = [...new Set(bands.map(({ zone }) => zone))]
  const found = zones.map((zone) => bands.find((band) => band.zone === zone && grams <= band.upToGrams))
  const lines = found.flatMap((band) => (band ? [{ zone: band.zone, countries: band.countries, amountMinor: band.amountMinor }] : []))
  return { lines, tooHeavyFor: zones.filter((_, index) => !found[index]) }
}

export const bandRow = (band: Band, currency: Currency): string[] => [
  band.zone,
  showCountries(band.countries),
  String(band.upToGrams),
  plainMoney(band.amountMinor, currency),
]

/** One line of the table in words. */
export const bandLine = (band: Band, currency: Currency): string =>
  `${band.zone} up to ${showGrams(band.upToGrams)} ${showMoney(band.amountMinor, currency)} (${showCountries(band.countries)})`
