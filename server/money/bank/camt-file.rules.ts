import { SaxesParser } from 'saxes'
import { CURRENCIES, type Currency, type Minor } from '#kernel/money'
import type { TableFlaw } from '#kernel/table'
import type { BankRow } from './statement-questions.rules'

/** What a bank says of its account for a time: how much was on it before and after. */
export interface StatedBalances {
  account: string
  opensOn: string
  closesOn: string
  openingMinor: Minor
  closingMinor: Minor
}

interface Element {
  name: string
  currency: string
  text: string
  children: Element[]
  line: number
}

/** Deeper than any statement of a bank is. */
const MOST_DEEP = 40
const MOST_ENTRIES = 5000

export const isCamt = (text: string): boolean => /^\s*</.test(text) && text.includes('camt.053.001.')

/**
 * Account statements of ISO 20022, camt.053.001.02 to .08: booked entries with their booking and value dates, and the
 * balances of the account. One entry of several payments that add up to it is read as those.
 */
export function readCamt(text: string, currency: Currency): { rows: BankRow[]; balances: StatedBalances[]; flaws: TableFlaw[] } {
  const root = treeOf(text)
  if ('words' in root) return { rows: [], balances: [], flaws: [root] }
  const statements = all(at(root, 'BkToCstmrStmt'), 'Stmt')
  const flaws: TableFlaw[] = []
  const flaw = (line: number, words: string) => void flaws.push({ line, column: 'XML', words })
  if (statements.length === 0) flaw(0, 'No statement is in this file.')
  // Lines are held against an account by their days, so those of another account would be taken for its own.
  if (new Set(statements.map(accountOf)).size > 1)
    flaw(0, 'This file holds statements of several accounts. Import those of each account in a file of their own.')
  const entries = statements.flatMap((statement) => all(statement, 'Ntry'))
  if (entries.length > MOST_ENTRIES) flaw(0, `That is more than ${MOST_ENTRIES} entries, which is the most you can import at once.`)
  if (flaws.length > 0) return { rows: [], balances: [], flaws }
  const rows = entries.flatMap((entry) => {
    // What is pending may still change; what is only information was never on the account.
    const status = textAt(entry, 'Sts', 'Cd') || textAt(entry, 'Sts')
    if (status !== '' && status !== 'BOOK') return []
    return rowsOf(entry, currency, flaw)
  })
  return { rows, balances: statements.flatMap((statement) => balancesOf(statement, currency) ?? []), flaws }
}

function rowsOf(entry: Element, currency: Currency, flaw: (line: number, words: string) => void): BankRow[] {
  const total = amountOf(at(entry, 'Amt'))
  const bookedOn = dayOf(at(entry, 'BookgDt')) ?? dayOf(at(entry, 'ValDt'))
  const direction = textAt(entry, 'CdtDbtInd')
  if (!total || !bookedOn || (direction !== 'CRDT' && direction !== 'DBIT')) {
    flaw(entry.line, 'This entry has no amount, no day or no direction. Export the statement again.')
    return []
  }
  const sign = direction === 'CRDT' ? 1 : -1
  const details = all(entry, 'NtryDtls').flatMap((one) => all(one, 'TxDtls'))
  const parts = details.map((one) => amountOf(at(one, 'Amt') ?? at(one, 'AmtDtls', 'TxAmt', 'Amt')))
  const isWhole =
    details.length > 1 &&
    parts.every((part) => part?.currency === total.currency) &&
    parts.reduce((sum, part) => sum + (part?.minor ?? 0), 0) === total.minor
  const said = textAt(entry, 'AddtlNtryInf')
  const row = (minor: Minor, detail: Element | undefined): BankRow => ({
    line: entry.line,
    on: bookedOn,
    valueOn: dayOf(at(entry, 'ValDt')) ?? bookedOn,
    amountMinor: sign * minor,
    words: oneLine([...all(at(detail, 'RmtInf'), 'Ustrd').map(({ text }) => text), said].join(' ')).slice(0, 1000),
    name: oneLine(partyOf(detail, direction === 'CRDT' ? 'Dbtr' : 'Cdtr')).slice(0, 300),
    reference: oneLine(referenceOf(detail)).slice(0, 200),
    balance: textAt(entry, 'AcctSvcrRef') || textAt(entry, 'NtryRef'),
    ...(total.currency !== currency && { currency: total.currency }),
  })
  if (total.minor === 0) return []
  return isWhole ? details.map((detail, index) => row(parts[index]?.minor ?? 0, detail)) : [row(total.minor, details[0])]
}

const partyOf = (detail: Element | undefined, who: 'Dbtr' | 'Cdtr'): string =>
  textAt(detail, 'RltdPties', who, 'Pty', 'Nm') || textAt(detail, 'RltdPties', who, 'Nm')

function referenceOf(detail: Element | undefined): string {
  const structured = textAt(detail, 'RmtInf', 'Strd', 'CdtrRefInf', 'Ref')
  const endToEnd = textAt(detail, 'Refs', 'EndToEndId')
  return structured || (endToEnd === 'NOTPROVIDED' ? '' : endToEnd)
}

const accountOf = (statement: Element): string =>
  (textAt(statement, 'Acct', 'Id', 'IBAN') || textAt(statement, 'Acct', 'Id', 'Othr', 'Id')).slice(0, 70)

/** Opening (or what the one before closed with) and closing balance, where both are there and in the currency of the books. */
function balancesOf(statement: Element, currency: Currency): StatedBalances | null {
  const balances = all(statement, 'Bal')
  const of = (...codes: string[]) => balances.find((one) => codes.includes(textAt(one, 'Tp', 'CdOrPrtry', 'Cd')))
  const read = (one: Element | undefined) => {
    const amount = amountOf(at(one, 'Amt'))
    const day = dayOf(at(one, 'Dt'))
    return amount && day && amount.currency === currency
      ? { day, minor: textAt(one, 'CdtDbtInd') === 'DBIT' ? -amount.minor || 0 : amount.minor }
      : null
  }
  const [opening, closing] = [read(of('OPBD', 'PRCD')), read(of('CLBD'))]
  if (!opening || !closing || closing.day < opening.day) return null
  return {
    account: accountOf(statement),
    opensOn: opening.day,
    closesOn: closing.day,
    openingMinor: opening.minor,
    closingMinor: closing.minor,
  }
}

/** An amount in minor units; null where it is none, or of a currency (ISO 4217) whose decimals the house does not know. */
function amountOf(element: Element | undefined): { minor: Minor; currency: string } | null {
  const match = /^(\d{1,13})(?:\.(\d{1,5}))?$/.exec(element?.text.trim() ?? '')
  if (!element || !match) return null
  const exponent = element.currency in CURRENCIES ? CURRENCIES[element.currency as Currency].exponent : 2
  const fraction = match[2] ?? ''
  if (/[^0]/.test(fraction.slice(exponent))) return null
  return { minor: Number((match[1] ?? '') + fraction.slice(0, exponent).padEnd(exponent, '0')), currency: element.currency }
}

function dayOf(element: Element | undefined): string | null {
  const day = (textAt(element, 'Dt') || textAt(element, 'DtTm')).slice(0, 10)
  return /^\d{4}-\d\d-\d\d$/.test(day) && new Date(`${day}T00:00:00Z`).toISOString().startsWith(day) ? day : null
}

const oneLine = (text: string): string => text.replaceAll(/\s+/g, ' ').trim()
const all = (element: Element | undefined, name: string): Element[] => element?.children.filter((one) => one.name === name) ?? []
const at = (element: Element | undefined, ...names: string[]): Element | undefined =>
  names.reduce<Element | undefined>((one, name) => one?.children.find((child) => child.name === name), element)
const textAt = (element: Element | undefined, ...names: string[]): string => at(element, ...names)?.text.trim() ?? ''

/** The elements of a document by their local names. A document that defines entities of its own is not read: no bank writes one. */
function treeOf(text: string): Element | TableFlaw {
  const parser = new SaxesParser()
  const root: Element = { name: '', currency: '', text: '', children: [], line: 0 }
  const open: Element[] = [root]
  let wrong = ''
  parser.on('doctype', () => {
    wrong ||= 'This file carries a document type of its own, which statements of banks never do.'
  })
  parser.on('error', () => {
    wrong ||= 'This XML is damaged. Export the statement again, and do not open it in between.'
  })
  parser.on('opentag', ({ name, attributes }) => {
    const element = { name: name.slice(name.indexOf(':') + 1), currency: attributes.Ccy ?? '', text: '', children: [], line: parser.line }
    open.at(-1)?.children.push(element)
    open.push(element)
    if (open.length > MOST_DEEP) wrong ||= 'This XML is not an account statement.'
  })
  parser.on('text', (said) => {
    const inside = open.at(-1)
    if (inside) inside.text += said
  })
  parser.on('closetag', () => void open.pop())
  for (let from = 0; from < text.length && wrong === ''; from += 10_000) parser.write(text.slice(from, from + 10_000))
  if (wrong === '') parser.close()
  const line = parser.line
  const document = at(root, 'Document')
  if (wrong !== '' || !document) return { line, column: 'XML', words: wrong || 'This XML is not an account statement.' }
  return document
}
