import { readSheet, type SheetOrder, type SheetReading } from '#gifts/sheets/sheet-reading'
import type { SheetWhat } from '#gifts/sheets/sheets.contract'
import { partWords } from '#stock/catalogue/part.rules'

export const FACTS: SheetOrder['facts'] = {
  donors: [],
  currency: 'GBP',
  today: '2027-03-14',
  catalogue: [],
  inWords: {},
  earlier: [],
  stored: [],
}

export const knownResistor = {
  kind: 'resistor' as const,
  name: 'resistor',
  value: '4.7 kΩ',
  package: '',
  rating: '',
  programmed: false,
  words: partWords({ kind: 'resistor', name: 'resistor', value: '4.7 kΩ', package: '', rating: '' }),
}

/** A sheet as it reads, with answers to what it asks. */
export const reads = (
  what: SheetWhat,
  text: string | Uint8Array,
  {
    answers = {},
    facts = {},
    choice = {},
  }: { answers?: Record<string, string>; facts?: Partial<SheetOrder['facts']>; choice?: SheetOrder['choice'] } = {},
): Promise<SheetReading> =>
  readSheet({
    what,
    ...(typeof text === 'string' ? { pasted: text, base64: null } : { pasted: null, base64: Buffer.from(text).toString('base64') }),
    choice,
    answers,
    facts: { ...FACTS, ...facts },
    isToBeStored: true,
  })

export const asked = ({ questions }: SheetReading): string[] => questions.filter(({ answer }) => answer === null).map(({ words }) => words)
