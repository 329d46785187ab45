import { decoded } from '#kernel/encoding'
import { CURRENCY_CODES, type Currency } from '#kernel/money'
import { type ColumnWanted, readTable, type Table, type TableFlaw } from '#kernel/table'
import { type AmountRead, currencyIn, decimalMarkOf, readAmount } from '#kernel/written-amount'
import { type DayOrder, dayOrderOf, readDay } from '#kernel/written-day'
import { isCamt, readCamt, type StatedBalances } from './camt-file.rules'
import {
  type BankChoice,
  type BankQuestion,
  type BankRow,
  dayQuestion,
  signQuestion,
  twinQuestion,
  withoutTwins,
} from './statement-questions.rules'

/** What columns a bank's file may have, with words that banks use for them. Common practice, no source. */
export const BANK_COLUMNS: ColumnWanted[] = [
  {
    name: 'date',
    also: [
      'booking date',
      'transaction date',
      'posted',
      'posting date',
      'datum',
      'booking',
      'booked',
      'booked on',
      'buchung',
      'buchungstag',
      'buchungsdatum',
      'date opération',
      'date comptable',
      'fecha',
      'fecha operación',
      'fecha contable',
      'data',
      'data contabile',
      'dato',
      'bogføringsdato',
      'bokføringsdato',
      'bokföringsdag',
      'boekdatum',
    ],
    isRequired: false,
  },
  {
    name: 'value date',
    also: ['valuta', 'valutadatum', 'wertstellung', 'wertstellungsdatum', 'date de valeur', 'fecha valor', 'data valuta', 'rentedatum'],
    isRequired: false,
  },
  {
    name: 'amount',
    also: [
      'amount gbp',
      'amount eur',
      'amount usd',
      'betrag',
      'betrag eur',
      'umsatz',
      'montant',
      'importe',
      'importo',
      'bedrag',
      'beløp',
      'belopp',
      'value',
    ],
    isRequired: false,
  },
  { name: 'paid in', also: ['credit', 'money in', 'credit amount', 'haben', 'crédit', 'abono', 'in', 'deposit'], isRequired: false },
  { name: 'paid out', also: ['debit', 'money out', 'debit amount', 'soll', 'débit', 'cargo', 'out', 'withdrawal'], isRequired: false },
  { name: 'currency', also: ['ccy', 'währung', 'devise', 'divisa', 'valuta code', 'moneda'], isRequired: false },
  {
    name: 'words',
    also: [
      'description',
      'details',
      'narrative',
      'memo',
      'transaction details',
      'verwendungszweck',
      'buchungstext',
      'libellé',
      'concepto',
      'omschrijving',
      'tekst',
      'message',
      'remittance information',
    ],
    isRequired: false,
  },
  {
    name: 'name',
    also: [
      'counterparty',
      'payer',
      'payee',
      'from',
      'beneficiary',
      'name of payer',
      'auftraggeber',
      'beguenstigter zahlungspflichtiger',
      'begünstigter/zahlungspflichtiger',
      'auftraggeber/empfänger',
      'tegenpartij',
    ],
    isRequired: false,
  },
  {
    name: 'reference',
    also: [
      'ref',
      'structured reference',
      'creditor reference',
      'end to end id',
      'end-to-end',
      'kundenreferenz',
      'référence',
      'referencia',
      'kid',
    ],
    isRequired: false,
  },
  {
    name: 'account',
    also: ['account number', 'own account', 'auftragskonto', 'iban auftragskonto', 'eigenes konto'],
    isRequired: false,
  },
  { name: 'balance', also: ['running balance', 'saldo', 'solde', 'balance after'], isRequired: false },
]

export interface BankReading {
  table: Omit<Table, 'rows'>
  rows: BankRow[]
  flaws: TableFlaw[]
  questions: BankQuestion[]
  /** What the bank says was on the account, where the file says it. */
  balances: StatedBalances[]
}

/** Reads a bank's file: its table, then days and amounts, with every slip at its line and every doubt as a question. */
export function readBankFile(
  source: Uint8Array | string,
  { currency, choice, today, isOurs }: { currency: Currency; choice: BankChoice; today: string; isOurs: (text: string) => boolean },
): BankReading {
  const { text } = decoded(source, choice.encoding)
  if (isCamt(text)) return readStatement(text, { currency, choice, today })
  const { table, flaws } = readTable(source, BANK_COLUMNS, choice)
  const { rows: cells, ...shape } = table
  const taken = new Set(table.columns.map(({ column }) => column))
  if (table.columns.length > 0 && !taken.has('amount') && !taken.has('paid in') && !taken.has('paid out'))
    flaws.push({
      line: 0,
      column: 'amount',
      words: 'No column holds the amount. Say which one does, or which two are paid in and paid out.',
    })
  if (table.columns.length > 0 && !taken.has('date') && !taken.has('value date'))
    flaws.push({ line: 0, column: 'date', words: 'No column holds the day. Say which one does.' })
  for (const { heading, column } of table.columns) {
    const named = column === 'amount' || column === 'paid in' || column === 'paid out' ? currencyIn(heading) : null
    if (named && named !== currency) flaws.push({ line: 0, column: heading, words: foreign(named, currency) })
  }
  if (flaws.length > 0) return { table: shape, rows: [], flaws, questions: [], balances: [] }

  // A line without day and amount is a heading or a sum of the bank's own.
  const body = cells.filter(({ cells: one }) => ['date', 'amount', 'paid in', 'paid out'].some((name) => (one[name] ?? '') !== ''))
  const dayIn = (one: Record<string, string>) => one.date || (one['value date'] ?? '')
  const found = dayOrderOf(body.flatMap(({ cells: one }) => [one.date ?? '', one['value date'] ?? '']))
  // A day after the twelfth says which comes first, whatever was said of an earlier file.
  const order: DayOrder = found === 'day first' || found === 'month first' ? found : (choice.dayOrder ?? 'day first')
  if (found === 'mixed' && !choice.dayOrder)
    flaws.push({
      line: 0,
      column: 'date',
      words: 'Some dates have the day first and some the month. Is this one file? Write them all the same way.',
    })
  const amounts = body.flatMap(({ cells: one }) => [one.amount, one['paid in'], one['paid out']].filter((cell): cell is string => !!cell))
  const mark = decimalMarkOf(amounts, currency)
  if (mark === null)
    flaws.push({
      line: 0,
      column: 'amount',
      words: 'Some amounts have a decimal comma and some a decimal point. Write them all the same way.',
    })
  const read = body.flatMap(({ line, cells: one }): BankRow[] => {
    const flaw = (column: string, words: string) => void flaws.push({ line, column, words })
    const on = readDay(dayIn(one), order)
    const valueOn = (one['value date'] ?? '') === '' ? null : readDay(one['value date'] ?? '', order)
    if (on === null) flaw('date', `"${dayIn(one).slice(0, 30)}" is not a day. Write it like 2027-03-14.`)
    else if (on > today)
      flaw(
        'date',
        `${on} has not come yet. ${found === 'asked' ? 'Is the day first, or the month?' : 'Leave out lines that are not booked yet.'}`,
      )
    const foreignCode = foreignIn(one, currency)
    const amount = amountOf(one, foreignCode ?? currency, mark ?? 'point')
    if ('words' in amount) flaw('amount', amount.words)
    if (on === null || 'words' in amount || amount.amountMinor === 0) return []
    const turned = choice.sign === 'turned' ? -1 : 1
    const text = (name: string, most: number) => (one[name] ?? '').replaceAll(/\s+/g, ' ').trim().slice(0, most)
    return [
      {
        line,
        on,
        ...(valueOn !== null && valueOn !== on && { valueOn }),
        ...(foreignCode !== null && { currency: foreignCode }),
        amountMinor: amount.amountMinor * turned,
        words: text('words', 1000),
        name: text('name', 300),
        reference: text('reference', 200),
        balance: text('balance', 40),
      },
    ]
  })
  const questions = [
    ...(found === 'asked'
      ? [
          dayQuestion(
            body.map(({ cells: one }) => dayIn(one)),
            choice,
          ),
        ]
      : []),
    ...signQuestion(read, choice, isOurs),
    ...twinQuestion(read, choice),
  ]
  return { table: shape, rows: choice.twins === 'each' ? read : withoutTwins(read), flaws, questions, balances: [] }
}

/** The same of a statement in XML: it says what its columns mean, so there is little to ask. */
function readStatement(text: string, { currency, choice, today }: { currency: Currency; choice: BankChoice; today: string }): BankReading {
  const { rows, balances, flaws } = readCamt(text, currency)
  const later = rows.find(({ on }) => on > today)
  if (later) flaws.push({ line: later.line, column: 'XML', words: `${later.on} has not come yet. Export the statement again when it has.` })
  const shape: BankReading['table'] = { encoding: 'UTF-8', delimiter: 'comma', hasHeading: false, columns: [] }
  return { table: shape, rows: choice.twins === 'each' ? rows : withoutTwins(rows), flaws, questions: twinQuestion(rows, choice), balances }
}

/** A line that says by itself, in its own column or beside its amount, that it is in another currency that the house knows. */
function foreignIn(cells: Record<string, string>, currency: Currency): Currency | null {
  const stated = (cells.currency ?? '').trim().toUpperCase()
  const beside = ['amount', 'paid in', 'paid out'].map((name) => currencyIn(cells[name] ?? '')).find((code) => code !== null)
  const code = CURRENCY_CODES.find((one) => one === stated) ?? beside ?? null
  return code === currency ? null : code
}

const foreign = (named: string, currency: Currency): string =>
  `This file is in ${named}; the books are in ${currency}. Export the account in ${currency} alone: amounts are not converted here.`

function amountOf(cells: Record<string, string>, currency: Currency, mark: 'comma' | 'point'): AmountRead {
  const cell = (name: string) => (cells[name] ?? '').trim()
  if (cell('amount') !== '') return readAmount(cell('amount'), currency, mark)
  const read = (name: string): AmountRead => (cell(name) === '' ? { amountMinor: 0 } : readAmount(cell(name), currency, mark))
  const [into, out] = [read('paid in'), read('paid out')]
  if ('words' in into) return into
  if ('words' in out) return out
  if (into.amountMinor !== 0 && out.amountMinor !== 0)
    return { words: 'This line has both a paid in and a paid out amount. Check the columns.' }
  // Banks write what went out with and without a minus in a column of its own.
  return { amountMinor: Math.abs(into.amountMinor) - Math.abs(out.amountMinor) || 0 }
}
