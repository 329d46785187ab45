import type { Cells } from './sending.contract'

/**
 * What is said of cells. Numbers of the UN list and the limits of small lithium-ion batteries (cell ≤ 20 Wh, battery
 * ≤ 100 Wh, ICAO/IATA/ADR SP188; UN 3480 alone, UN 3481 with or in equipment): from memory. Lithium metal, UN 3090
 * and UN 3091: from memory.
 */
const SMALL_BATTERY_MILLIWATT_HOURS = 100_000

export const CELL_WORDS: Record<Cells, string> = {
  unsaid: 'Not said yet',
  none: 'No cells in the parcel',
  dry: 'Dry cells only: alkaline, zinc–carbon, nickel–metal hydride',
  'ion-inside': 'Lithium-ion, fitted in the machine',
  'ion-beside': 'Lithium-ion, packed beside the machine',
  'metal-inside': 'Lithium metal, such as a coin cell, fitted in the machine',
  'metal-beside': 'Lithium metal, packed beside the machine',
}

export const CELL_NUMBERS: Partial<Record<Cells, string>> = {
  'ion-inside': 'UN 3481',
  'ion-beside': 'UN 3481',
  'metal-inside': 'UN 3091',
  'metal-beside': 'UN 3091',
}

export interface ParcelDangers {
  cells: Cells
  milliwattHours: number | null
  mains: 'unsaid' | 'no' | 'yes'
}

/** What to be careful of with what is in the parcel. Never that it may go: that is the carrier's and the country's to say. */
export function dangerWords({ cells, milliwattHours, mains }: ParcelDangers): string[] {
  const words: string[] = []
  const number = CELL_NUMBERS[cells]
  if (number) {
    const isIon = cells.startsWith('ion')
    words.push(
      `${number}, lithium ${isIon ? 'ion' : 'metal'} batteries ${cells.endsWith('inside') ? 'contained in' : 'packed with'} equipment. Carriers and countries have their own rules for these, and some refuse them: ask your carrier before you pack.`,
    )
    words.push(
      'Guard the terminals against a short, switch the machine off so that it cannot come on by itself, and have the cells’ test summary (UN Manual of Tests and Criteria, 38.3) to hand.',
    )
    if (isIon && milliwattHours === null) words.push('The battery’s watt-hours are missing. Carriers ask for them.')
    if (isIon && milliwattHours !== null && milliwattHours > SMALL_BATTERY_MILLIWATT_HOURS) {
      words.push(`${milliwattHours / 1000} Wh is above the 100 Wh up to which a battery counts as small: expect it to be refused as post.`)
    }
  }
  if (cells === 'dry') words.push('Take dry cells out, or guard their terminals with tape. Used cells are not sent.')
  if (mains === 'yes') {
    words.push(
      'It runs from the mains. Before it leaves, have a competent person check it against the rules where you are and where it is going; plugs and voltages differ. Nothing here says that it is fit for use there.',
    )
  }
  return words
}

/** Words in the cautions or the parts that speak of cells or of mains: a reason to ask, never an answer. */
export function hintsOfDanger(texts: readonly string[]): { cells: string | null; mains: string | null } {
  const find = (pattern: RegExp) => texts.find((text) => pattern.test(text))?.slice(0, 160) ?? null
  return {
    cells: find(/lithium|li-?ion|li-?po|coin cell|\bCR\d{4}\b|\bcells?\b|batter(y|ies)|accumulator/i),
    mains: find(/\bmains\b|\b(110|115|120|220|230|240)\s*V\b|line voltage/i),
  }
}
