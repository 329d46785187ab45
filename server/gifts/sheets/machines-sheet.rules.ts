import { type EarlierIn, earlierIn, FATES, type Fate } from '#bench/earlier/earlier.contract'
import { CURRENCY_CODES, type Currency, showMoney } from '#kernel/money'
import type { TableRow } from '#kernel/table'
import { currencyIn } from '#kernel/written-amount'
import type { SheetUnderstood } from './donors-sheet.rules'
import { counted, inLines, minutesIn, type Notes, readAmounts, readDays } from './notes.rules'
import type { PlanItem } from './sheets.contract'

export interface MachineFacts {
  /** Those from before that are here already. */
  earlier: readonly EarlierIn[]
  currency: Currency | null
  today: string
  /** The heading of the column of amounts, which may name a currency. */
  amountHeading: string
}

const FATE_WORDS: readonly [Fate, RegExp][] = [
  ['sold', /sold|auction|verkauft|vendu|vendid/i],
  ['given away', /given|gift|donat|verschenkt|offert/i],
  ['taken apart', /apart|part|scrap|dismantl|zerlegt|ausgeschlachtet/i],
  ['lost', /lost|stolen|burn|broken|dead|verloren|kaputt|perdu/i],
  ['kept', /kept|keep|here|mine|own|shelf|behalten|gard/i],
  ['not known', /unknown|not known|\?|unbekannt/i],
]

/** Machines that were built before this house. To whom they went is not stored, and what they raised counts in no campaign. */
export function readMachinesSheet(
  rows: readonly TableRow[],
  { earlier, currency, today, amountHeading }: MachineFacts,
  notes: Notes,
): SheetUnderstood {
  const currencyOf = currencyReader(rows, currency ?? currencyIn(amountHeading), currencyIn(amountHeading), notes)
  const builtOf = roughDays(notes, rows, 'built', today)
  const whenOf = roughDays(notes, rows, 'when', today)
  const amountOf = readAmounts(notes, rows, 'raised', currencyOf)
  const machines = rows.flatMap((row): { line: number; machine: EarlierIn }[] => {
    const raisedMinor = amountOf(row)
    const machine = {
      design: row.cells.design ?? '',
      serial: row.cells.serial ?? '',
      builtOn: builtOf(row),
      minutes: minutesOf(row, notes),
      raisedMinor,
      currency: raisedMinor === null ? null : currencyOf(row),
      fate: fateOf(row, raisedMinor, notes),
      fateOn: whenOf(row),
    }
    const read = earlierIn.safeParse(machine)
    if (read.success) return [{ line: row.line, machine: read.data }]
    const columns: Record<string, string> = { minutes: 'hours', raisedMinor: 'raised', builtOn: 'built', fateOn: 'when' }
    for (const { path, message } of read.error.issues) notes.flaw(row.line, columns[String(path[0])] ?? String(path[0]), message)
    return []
  })
  askFate(rows, notes)
  const kept = withoutTwins(machines, earlier, notes)
  const plan = kept.map(({ machine }): PlanItem => ({ is: 'machine', machine }))
  const stored = new Set(kept.map(({ line }) => line))
  const understood = new Map(
    machines.map(({ line, machine }) => [line, `${understoodOf(machine)}${stored.has(line) ? '' : ' · here already'}`] as const),
  )
  return {
    understood,
    plan,
    summary: summaryOf(
      kept.map(({ machine }) => machine),
      machines.length,
    ),
  }
}

/** A year, a month or a day. */
function roughDays(notes: Notes, rows: readonly TableRow[], column: string, today: string): (row: TableRow) => string | null {
  const rough = new Map(rows.map((row) => [row.line, roughOf(row.cells[column] ?? '')]))
  const exact = readDays(
    notes,
    rows.filter(({ line }) => rough.get(line) === null),
    column,
    today,
  )
  return (row) => {
    const day = rough.get(row.line)
    if (!day) return exact(row)
    if (day <= today.slice(0, day.length) && day >= '1900') return day
    notes.flaw(row.line, column, `“${row.cells[column]?.slice(0, 40)}” is no time in which it can have been. Check it.`)
    return null
  }
}

function roughOf(written: string): string | null {
  const text = written.normalize('NFKC').trim()
  if (/^\d{4}$/.test(text)) return text
  const month =
    /^(\d{4})[-/.](\d{1,2})$/.exec(text) ??
    /^(\d{1,2})[-/.](\d{4})$/.exec(text)?.map((part, at, all) => (at === 0 ? part : (all[3 - at] ?? '')))
  if (!month || Number(month[2]) < 1 || Number(month[2]) > 12) return null
  return `${month[1]}-${String(month[2]).padStart(2, '0')}`
}

function currencyReader(
  rows: readonly TableRow[],
  usual: Currency | null,
  inHeading: Currency | null,
  notes: Notes,
): (row: TableRow) => Currency {
  const said = (row: TableRow): Currency | null => {
    const written = (row.cells.currency ?? '').trim().toUpperCase()
    return CURRENCY_CODES.find((code) => code === written) ?? currencyIn(row.cells.raised ?? '')
  }
  for (const row of rows) {
    const written = row.cells.currency ?? ''
    if (written !== '' && said(row) === null)
      notes.flaw(
        row.line,
        'currency',
        `“${written.slice(0, 20)}” is no currency that is known here. Write its code: ${CURRENCY_CODES.slice(0, 6).join(', ')} and so on.`,
      )
  }
  const silent = rows.filter((row) => row.cells.raised && !row.cells.currency && said(row) === null)
  const answer =
    silent.length > 0 && inHeading === null
      ? notes.ask({
          key: 'currency',
          words: `In which currency is what the machines raised, ${inLines(silent.map(({ line }) => line))}?`,
          options: [...new Set([...(usual ? [usual] : []), ...CURRENCY_CODES])].map((code) => ({ value: code, label: code })),
        })
      : null
  const otherwise = inHeading ?? CURRENCY_CODES.find((code) => code === answer) ?? usual ?? 'EUR'
  return (row) => said(row) ?? otherwise
}

function minutesOf({ line, cells: { hours = '' } }: TableRow, notes: Notes): number | null {
  if (hours === '') return null
  const minutes = minutesIn(hours)
  if (minutes === null || minutes < 1)
    notes.flaw(line, 'hours', `“${hours.slice(0, 40)}” was not read as hours. Write them like 12.5, 12:30 or 750 min.`)
  return minutes === 0 ? null : minutes
}

function fateOf({ line, cells: { fate = '' } }: TableRow, raisedMinor: number | null, notes: Notes): Fate {
  if (fate === '') return raisedMinor === null ? 'not known' : 'sold'
  const exact = FATES.find((one) => one === fate.toLowerCase())
  const found = exact ?? FATE_WORDS.find(([, pattern]) => pattern.test(fate))?.[0]
  if (!found) notes.flaw(line, 'fate', `“${fate.slice(0, 40)}” does not say what became of it. Write ${FATES.join(', ')}.`)
  return found ?? 'not known'
}

function askFate(rows: readonly TableRow[], notes: Notes): void {
  const taken = rows.filter(({ cells }) => !cells.fate && cells.raised)
  if (taken.length > 0)
    notes.ask({
      key: 'sold',
      words: `What raised something was taken as sold, ${inLines(taken.map(({ line }) => line))}. Is that so?`,
      options: [{ value: 'yes', label: 'Yes, all of them were sold' }],
    })
}

const numberOf = ({ design, serial }: EarlierIn): string => `${design.toLowerCase()} ${serial.toLowerCase()}`

/** A machine that is here already is not stored again; a number that stands twice is a slip of the pen. */
function withoutTwins(machines: readonly { line: number; machine: EarlierIn }[], earlier: readonly EarlierIn[], notes: Notes) {
  const here = new Map(earlier.filter(({ serial }) => serial !== '').map((machine) => [numberOf(machine), machine]))
  const lines = new Map<string, number>()
  const kept = machines.filter(({ line, machine }) => {
    if (machine.serial === '') return true
    const first = lines.get(numberOf(machine))
    if (first !== undefined)
      notes.flaw(
        line,
        'serial',
        `${machine.design} ${machine.serial} stands in line ${first} already. Write its own number, or leave the row out.`,
      )
    lines.set(numberOf(machine), line)
    const before = here.get(numberOf(machine))
    if (before && understoodOf(before) !== understoodOf(machine))
      notes.hint(line, 'It is here already and stays as it is there. Remove it there first if the sheet is right.')
    return before === undefined
  })
  return kept
}

function understoodOf({ design, serial, builtOn, minutes, raisedMinor, currency, fate, fateOn }: EarlierIn): string {
  return [
    `${design} ${serial}`.trim(),
    builtOn === null ? '' : `built ${builtOn}`,
    minutes === null ? '' : `${Number((minutes / 60).toFixed(1))} hours`,
    raisedMinor === null || currency === null ? '' : `raised ${showMoney(raisedMinor, currency)}`,
    fateOn === null ? (fate === 'not known' ? 'what became of it is not known' : fate) : `${fate}, ${fateOn}`,
  ]
    .filter(Boolean)
    .join(' · ')
}

function summaryOf(kept: readonly EarlierIn[], read: number): string[] {
  const designs = new Set(kept.map(({ design }) => design.toLowerCase())).size
  const raised = new Map<Currency, number>()
  for (const { currency, raisedMinor } of kept)
    if (currency !== null && raisedMinor !== null) raised.set(currency, (raised.get(currency) ?? 0) + raisedMinor)
  const sums = [...raised].map(([currency, minor]) => showMoney(minor, currency))
  return [
    `${counted(kept.length, 'machine', 'machines')} of ${counted(designs, 'design', 'designs')}`,
    sums.length > 0 ? `${sums.join(' and ')} raised by them, which counts in no campaign` : '',
    read > kept.length ? `${counted(read - kept.length, 'is', 'are')} here already and not stored again` : '',
  ].filter(Boolean)
}
