import type { Currency, Minor } from '#kernel/money'
import { type ColumnWanted, readTable, type Table, type TableFlaw } from '#kernel/table'
import type { TableChoice } from '#kernel/table-in'
import { currencyIn, decimalMarkOf, readAmount } from '#kernel/written-amount'

const looksLikeMoney = (cells: readonly string[]): boolean =>
  cells.length > 0 &&
  cells.every((cell) => /^[-−+(]?[^\d]{0,4}\d[\d.,' ]*\)?$/.test(cell.trim())) &&
  cells.some((cell) => /[.,]\d/.test(cell))

const amountBy =
  (words: readonly string[]) =>
  (heading: string, cells: readonly string[]): string | null => {
    const said = words.find((word) => heading.toLowerCase().includes(word))
    return said && looksLikeMoney(cells) ? `its heading says “${said}”, and amounts stand in it` : null
  }

/** What columns a processor's list of sales may have, with words in use for them. Common practice, no source. */
export const PAYOUT_COLUMNS: ColumnWanted[] = [
  {
    name: 'gross',
    also: ['gross amount', 'amount', 'sale', 'charged', 'betrag', 'brutto', 'montant', 'importe'],
    isRequired: false,
    guess: amountBy(['gross', 'charge', 'sale', 'total', 'brutto']),
  },
  {
    name: 'fee',
    also: ['fees', 'fee amount', 'commission', 'gebühr', 'gebühren', 'frais', 'comisión', 'costs'],
    isRequired: false,
    guess: amountBy(['fee', 'commission', 'cost', 'gebühr']),
  },
  {
    name: 'net',
    also: ['net amount', 'paid out', 'payout', 'netto', 'net total'],
    isRequired: false,
    guess: amountBy(['net', 'payout', 'paid out']),
  },
  { name: 'currency', also: ['ccy', 'währung', 'devise'], isRequired: false },
  {
    name: 'reference',
    also: ['ref', 'description', 'details', 'note', 'invoice', 'order', 'words', 'verwendungszweck'],
    isRequired: false,
    guess: (_heading, cells) => (cells.some((cell) => /RF\d\d/i.test(cell)) ? 'references of invoices stand in it' : null),
  },
  { name: 'name', also: ['customer', 'payer', 'buyer', 'cardholder', 'card holder', 'customer name'], isRequired: false },
  { name: 'date', also: ['day', 'created', 'transaction date', 'datum'], isRequired: false },
]

/** One sale of a payout; with a minus, money that went back to a card; with no gross, a fee alone. */
export interface PayoutRow {
  line: number
  grossMinor: Minor
  /** What was kept: above nought, or below where a fee was given back. */
  feeMinor: Minor
  netMinor: Minor
  reference: string
  name: string
}

export interface PayoutReading {
  table: Omit<Table, 'rows'>
  rows: PayoutRow[]
  flaws: TableFlaw[]
}

/** Reads a processor's list: of gross, fee and net two are enough, and where all three stand each row has to add up. */
export function readPayout(
  source: Uint8Array | string,
  { currency, choice, show }: { currency: Currency; choice: TableChoice; show(minor: Minor): string },
): PayoutReading {
  const { table, flaws } = readTable(source, PAYOUT_COLUMNS, choice)
  const { rows: cells, ...shape } = table
  const taken = new Set(table.columns.map(({ column }) => column))
  const amounts = ['gross', 'fee', 'net'].filter((name) => taken.has(name))
  if (flaws.length === 0 && amounts.length < 2)
    flaws.push({ line: 0, column: 'gross', words: 'Of gross, fee and net two are needed. Say which columns hold them.' })
  const written = cells.flatMap(({ cells: one }) => amounts.flatMap((name) => (one[name] ? [one[name]] : [])))
  const mark = decimalMarkOf(written, currency)
  if (mark === null)
    flaws.push({
      line: 0,
      column: 'gross',
      words: 'Some amounts have a decimal comma and some a decimal point. Write them all the same way.',
    })
  if (flaws.length > 0 || mark === null) return { table: shape, rows: [], flaws }
  const rows = cells.flatMap(({ line, cells: one }): PayoutRow[] => {
    if (amounts.every((name) => !one[name])) return []
    const named = one.currency ? currencyIn(one.currency) : null
    if (one.currency && named !== currency) {
      const words = `This row is in ${one.currency.slice(0, 20)}; the books are in ${currency}. Export what was paid out in ${currency}.`
      flaws.push({ line, column: 'currency', words })
      return []
    }
    const found = new Map<string, Minor>()
    for (const name of amounts) {
      const read = one[name] ? readAmount(one[name], currency, mark) : { amountMinor: 0 }
      if ('words' in read) flaws.push({ line, column: name, words: read.words })
      else found.set(name, read.amountMinor)
    }
    if (found.size < amounts.length) return []
    const sums = added(found)
    if (sums === null) {
      const [gross, fee, net] = ['gross', 'fee', 'net'].map((name) => show(found.get(name) ?? 0))
      flaws.push({ line, column: 'net', words: `${gross} less a fee of ${fee} is not ${net}. Check what these columns are used for.` })
      return []
    }
    const text = (name: string, most: number) => (one[name] ?? '').replaceAll(/\s+/g, ' ').trim().slice(0, most)
    return [{ line, ...sums, reference: text('reference', 200), name: text('name', 300) }]
  })
  return { table: shape, rows, flaws }
}

/** A fee is written with a minus or without one; which, the three amounts of its row say. */
function added(found: ReadonlyMap<string, Minor>): Pick<PayoutRow, 'grossMinor' | 'feeMinor' | 'netMinor'> | null {
  const [gross, fee, net] = [found.get('gross'), found.get('fee'), found.get('net')]
  if (gross === undefined) {
    const feeMinor = Math.abs(fee ?? 0)
    return { grossMinor: (net ?? 0) + feeMinor, feeMinor, netMinor: net ?? 0 }
  }
  if (net === undefined) {
    const feeMinor = Math.abs(fee ?? 0)
    return { grossMinor: gross, feeMinor, netMinor: gross - feeMinor }
  }
  const feeMinor = gross - net
  if (fee !== undefined && Math.abs(fee) !== Math.abs(feeMinor)) return null
  return { grossMinor: gross, feeMinor, netMinor: net }
}
