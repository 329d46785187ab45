import { type Currency, showMoney } from '#kernel/money'
import type { TableRow } from '#kernel/table'
import { readDay } from '#kernel/written-day'
import { countedThing } from '#stock/donors/count-words.rules'
import { donorIn, type GiftKind } from '#stock/donors/donor.contract'
import { countBefore, countIn, maybeCountBefore } from './count.rules'
import { counted, inLines, minutesIn, type Notes, readAmounts, readDays } from './notes.rules'
import { type KnownDonor, personsOf, type SheetPerson } from './persons.rules'
import { type Given, givingsOf, isThing, NOTHING_MORE } from './plan.rules'
import type { PlanItem, PlannedGift } from './sheets.contract'

export interface SheetFacts {
  donors: readonly KnownDonor[]
  /** The campaign's; null while there is none. */
  currency: Currency | null
  /** In the campaign's zone, such as 2024-05-14. */
  today: string
}

export interface SheetUnderstood {
  understood: Map<number, string>
  plan: PlanItem[]
  summary: string[]
}

const KINDS: readonly [GiftKind, RegExp][] = [
  ['labour', /labour|labor|help|work|time|hours|arbeit|hilfe/i],
  ['money', /money|cash|geld|argent|funds/i],
  ['postage', /postage|shipping|porto/i],
  ['boards', /board|pcb|platine/i],
  ['cases', /case|enclosure|geh[aä]use/i],
  ['parts', /part|component|bauteil/i],
  ['extras', /extra|other|misc|tool|sonstig/i],
]

const PROMISED = /promis|pledg|to come|expected|open|offered|on its way|zugesagt|versprochen/i
const CAME = /came|arriv|receiv|here|done|got|given|in stock|yes|erhalten|da\b|ok/i
const YES = /^(?:y|yes|x|✓|✔|done|sent|true|1|ja|oui|sí|si)$/i
const NO = /^(?:n|no|not yet|open|false|0|-|nein|non)$/i

/** Donors with what they gave. Nobody of a sheet is named in public: consents are asked in the house, and only there. */
export function readDonorsSheet(written: readonly TableRow[], { donors, currency, today }: SheetFacts, notes: Notes): SheetUnderstood {
  const rows = withNames(written, notes)
  const dayOf = readDays(notes, rows, 'day', today)
  const amountOf = currency === null ? noAmounts(notes, rows) : readAmounts(notes, rows, 'amount', () => currency)
  const named = rows.filter((row) => mayBeDonor(row, notes))
  const persons = personsOf(
    named.map(({ line, cells }) => ({ line, name: cells.name ?? '', mail: cells.mail ?? '' })),
    donors,
    notes,
  )
  const lacking = askWhatLacks(rows, notes, today)
  const given = new Map(rows.map((row) => [row.line, givenIn(row, { day: dayOf(row), amount: amountOf(row), lacking, notes })]))
  const rowOf = new Map(rows.map((row) => [row.line, row]))
  const plan = persons.flatMap((person) => {
    const own = person.lines.flatMap((line) => given.get(line) ?? [])
    return [...(person.isHere ? [] : [newDonor(person, rowOf)]), ...givingsOf(person, own)]
  })
  const personOf = new Map(persons.flatMap((person) => person.lines.map((line) => [line, person] as const)))
  const understood = new Map(rows.map(({ line }) => [line, understoodOf(personOf.get(line), given.get(line) ?? [], currency)] as const))
  return { understood, plan, summary: summaryOf(plan, persons, currency) }
}

/** First and last name put together; a row without a name may belong to the one above it, which is asked. */
function withNames(written: readonly TableRow[], notes: Notes): TableRow[] {
  const rows = written.map((row): TableRow => {
    const whole = row.cells.name || [row.cells['first name'], row.cells['last name']].filter(Boolean).join(' ')
    return { ...row, cells: { ...row.cells, name: whole } }
  })
  const nameless = rows.filter(({ cells }, index) => cells.name === '' && index > 0 && Object.values(cells).some(Boolean))
  if (nameless.length === 0 || rows[0]?.cells.name === '') return rows
  const answer = notes.ask({
    key: 'above',
    words: `There is no name ${inLines(nameless.map(({ line }) => line))}. Do these rows belong to the name above them?`,
    options: [
      { value: 'yes', label: 'Yes, to the name above' },
      { value: 'no', label: 'No' },
    ],
  })
  if (answer === 'no') return rows
  let above: TableRow['cells'] = {}
  return rows.map((row) => {
    const { name = '', mail = '' } = row.cells
    if (name !== '') above = { name, mail, 'credit as': row.cells['credit as'] ?? '' }
    return name === '' ? { ...row, cells: { ...row.cells, ...above } } : row
  })
}

function mayBeDonor({ line, cells }: TableRow, notes: Notes): boolean {
  const { name = '', mail = '' } = cells
  const creditName = creditOf(cells['credit as'] ?? '').creditName
  const read = donorIn.safeParse({ name, contact: mail, creditName })
  if (read.success) return true
  const column = { name: 'name', contact: 'mail', creditName: 'credit as' } as Record<string, string>
  for (const { path, message } of read.error.issues) notes.flaw(line, column[String(path[0])] ?? 'name', message)
  return false
}

const HIDDEN = /^(?:anonymous|anonym|anonyme|nobody|not at all|no|none|no name|nein|-)$/i

/** A wish not to be named is taken as it is; a name is what is shown once they consent. */
const creditOf = (said: string): { creditName: string; isHidden: boolean } =>
  HIDDEN.test(said.trim()) ? { creditName: '', isHidden: true } : { creditName: said.trim(), isHidden: false }

function newDonor({ donor, name, mail, lines }: SheetPerson, rowOf: ReadonlyMap<number, TableRow>): PlanItem {
  const isStandIn = donor.startsWith('nobody')
  const said = lines.map((line) => creditOf(rowOf.get(line)?.cells['credit as'] ?? ''))
  const creditName = said.find((one) => one.creditName !== '')?.creditName ?? ''
  const anonymity = isStandIn ? 'unknown' : said.some(({ isHidden }) => isHidden) ? 'maker-only' : 'named'
  return { is: 'donor', donor, name, creditName, contact: mail, anonymity, isStandIn }
}

function noAmounts(notes: Notes, rows: readonly TableRow[]): () => null {
  for (const { line, cells } of rows)
    if ((cells.amount ?? '') !== '') notes.flaw(line, 'amount', 'Set up the campaign first: it says in which currency this is.')
  return () => null
}

interface Lacking {
  /** When what has no day came; null where it is still to come. */
  day: string | null
  count: 'one' | 'not yet'
  /** A number before the words says how many. */
  isNumbered: boolean
  isThanked: boolean
}

/** What the rows leave open together is asked once. */
function askWhatLacks(rows: readonly TableRow[], notes: Notes, today: string): Lacking {
  const givers = rows.filter(({ cells }) => [cells.gift, cells.amount, cells.hours, cells.quantity].some(Boolean))
  const dayless = givers.filter(({ cells }) => cells.day === '' && !PROMISED.test(cells.state ?? ''))
  const linesOf = (some: readonly TableRow[]) => inLines(some.map(({ line }) => line))
  let day: string | null = null
  if (dayless.length > 0) {
    const isAllThings = dayless.every(({ cells }) => cells.amount === '' && cells.hours === '')
    const mayBePromised = isAllThings && dayless.every(({ cells }) => !CAME.test(cells.state ?? ''))
    const answer = notes.ask({
      key: 'day',
      words: `No day is given for what was given ${linesOf(dayless)}.${mayBePromised ? ' Has it come?' : ' On which day shall it be noted?'}`,
      options: mayBePromised ? [{ value: 'promised', label: 'Not yet: all of it is promised' }] : [],
      typed: { label: mayBePromised ? 'It has come; the day to note it under' : 'The day to note it under', type: 'date' },
    })
    day = answer === 'promised' ? null : answer
    if (day !== null && day > today) {
      notes.flaw(0, 'day', 'The day to note gifts under is still to come. Choose today or an earlier day.')
      day = null
    }
  }
  const silent = givers.filter(
    ({ cells }) => cells.quantity === '' && cells.amount === '' && cells.hours === '' && !countBefore(cells.gift ?? ''),
  )
  const numbered = silent.filter(({ cells }) => maybeCountBefore(cells.gift ?? ''))
  const isNumbered = numbered.length > 0 ? askNumbered(numbered, notes) : null
  const countless = isNumbered === 'no' ? silent : silent.filter((row) => !numbered.includes(row))
  const count =
    countless.length === 0
      ? null
      : notes.ask({
          key: 'count',
          words: `It does not say how many were given ${linesOf(countless)}.`,
          options: [
            { value: 'one', label: 'One of each' },
            { value: 'not yet', label: 'Not counted yet' },
          ],
        })
  const unsaid = givers.filter(
    ({ cells }) => !YES.test(cells.thanked ?? '') && !NO.test(cells.thanked ?? '') && !isDayWritten(cells.thanked ?? ''),
  )
  const came = unsaid.filter(({ cells }) => !PROMISED.test(cells.state ?? '') && (cells.day !== '' || day !== null))
  const thanked =
    came.length === 0
      ? null
      : notes.ask({
          key: 'thanked',
          words: `Have those been thanked who gave what stands ${linesOf(came)}? Whoever has not been thanked is put on the list of thanks that are due.`,
          options: [
            { value: 'yes', label: 'Yes, all of them' },
            { value: 'no', label: 'No, not yet' },
          ],
        })
  return { day, count: count === 'one' ? 'one' : 'not yet', isNumbered: isNumbered === 'yes', isThanked: thanked === 'yes' }
}

const askNumbered = (numbered: readonly TableRow[], notes: Notes) =>
  notes.ask({
    key: 'numbered',
    words: `“${numbered[0]?.cells.gift}” ${inLines(numbered.map(({ line }) => line))}: does the number before the words say how many?`,
    options: [
      { value: 'yes', label: 'Yes, that many' },
      { value: 'no', label: 'No, it belongs to the words' },
    ],
  })

const isDayWritten = (text: string) => readDay(text, 'day first') !== null || readDay(text, 'month first') !== null

interface RowRead {
  day: string | null
  amount: number | null
  lacking: Lacking
  notes: Notes
}

/** What one row says was given: a thing, hours, money, or more than one of these. */
function givenIn({ line, cells }: TableRow, { day, amount, lacking, notes }: RowRead): Given[] {
  const { gift = '', kind: said = '', hours = '', quantity = '', state = '', thanked = '', note = '' } = cells
  if (![gift, hours, quantity].some(Boolean) && amount === null) return []
  if (gift.length > 200) notes.flaw(line, 'gift', 'Keep what it is under 201 characters.')
  const kind = said === '' ? undefined : KINDS.find(([, pattern]) => pattern.test(said))?.[0]
  if (said !== '' && kind === undefined)
    notes.flaw(line, 'kind', `“${said.slice(0, 40)}” is no kind of gift. Write parts, boards, cases, extras, labour, postage or money.`)
  if (state !== '' && !PROMISED.test(state) && !CAME.test(state))
    notes.flaw(line, 'state', `“${state.slice(0, 40)}” does not say whether it has come. Write promised or received.`)
  if (thanked !== '' && !YES.test(thanked) && !NO.test(thanked) && !isDayWritten(thanked))
    notes.flaw(line, 'thanked', 'Write yes or no, or the day.')
  const isPromised = PROMISED.test(state)
  const cameOn = isPromised ? null : (day ?? lacking.day)
  const isThanked = cameOn !== null && (thanked === '' ? lacking.isThanked : !NO.test(thanked))
  if (isPromised && (amount !== null || hours !== ''))
    notes.flaw(line, 'state', 'Money and hours are noted once they were given. Leave the row out until then.')
  if (note.length > 1000) notes.flaw(line, 'note', 'Keep the note under 1001 characters.')
  const gifts: PlannedGift[] = []
  const nothing = { ...NOTHING_MORE, quantity: 0, howCounted: 'counted' } as const
  if (amount === 0) notes.flaw(line, 'amount', 'That is nothing. Leave the amount out, or write what it was.')
  if (amount !== null) gifts.push({ ...nothing, kind: 'money', words: gift, amountMinor: amount })
  const minutes = hours === '' ? null : minutesIn(hours)
  if (hours !== '' && (minutes === null || minutes < 1 || minutes > 600_000))
    notes.flaw(line, 'hours', `“${hours.slice(0, 40)}” was not read as hours. Write them like 2.5, 2:30 or 150 min.`)
  if (minutes !== null) gifts.push({ ...nothing, kind: 'labour', words: gift || 'help', minutes })
  if (kind === 'labour' && hours === '') notes.flaw(line, 'hours', 'Write how many hours they helped.')
  if (kind === 'money' && amount === null) notes.flaw(line, 'amount', 'Write how much it was.')
  if (gifts.length === 0 && kind !== 'labour' && kind !== 'money') {
    const thing = thingIn(gift, quantity, { line, lacking, notes })
    if (thing) gifts.push({ ...NOTHING_MORE, ...thing, ...(kind === 'postage' ? nothing : {}), kind: kind ?? 'extras' })
  }
  const isParcel = cameOn !== null && gifts.some(isThing)
  if (note !== '' && !isParcel) notes.hint(line, 'Notes are kept with parcels; this one is not stored.')
  return gifts.map((one) => ({ line, day: cameOn, note: isParcel ? note : '', isThanked, gift: one }))
}

function thingIn(
  gift: string,
  quantity: string,
  { line, lacking, notes }: { line: number; lacking: Lacking; notes: Notes },
): Pick<PlannedGift, 'words' | 'quantity' | 'howCounted'> | null {
  if (gift === '') {
    notes.flaw(line, 'gift', 'Say what was given.')
    return null
  }
  const before = quantity === '' ? (countBefore(gift) ?? (lacking.isNumbered ? maybeCountBefore(gift) : null)) : null
  if (before) return { words: before.words, ...before.count }
  if (quantity === '')
    return { words: gift, ...(lacking.count === 'one' ? { quantity: 1, howCounted: 'counted' } : { quantity: 0, howCounted: 'not yet' }) }
  const count = countIn(quantity)
  if (!('words' in count)) return { words: gift, ...count }
  notes.flaw(line, 'quantity', count.words)
  return null
}

const giftWords = ({ kind, words, quantity, howCounted, minutes, amountMinor }: PlannedGift, currency: Currency | null): string => {
  if (kind === 'money') return `${currency && amountMinor !== null ? showMoney(amountMinor, currency) : 'money'}${words && ` (${words})`}`
  if (kind === 'labour') return `${minutes ?? 0} minutes of help${words === 'help' ? '' : ` (${words})`}`
  return kind === 'postage' ? `postage (${words})` : countedThing({ quantity, howCounted }, words)
}

function understoodOf(person: SheetPerson | undefined, given: readonly Given[], currency: Currency | null): string {
  if (!person) return ''
  const who = `${person.name}${person.isHere ? ', here already' : ''}${!person.isHere && person.mail ? `, ${person.mail}` : ''}`
  const what = given.map(({ gift, day, isThanked }) => {
    const when =
      day === null ? 'promised' : `${isThing(gift) ? 'came on' : 'given on'} ${day}${isThanked ? ', thanked' : ', not thanked yet'}`
    return `${giftWords(gift, currency)}, ${when}`
  })
  return [who, ...(what.length > 0 ? what : ['nothing noted as given'])].join(' · ')
}

function summaryOf(plan: readonly PlanItem[], persons: readonly SheetPerson[], currency: Currency | null): string[] {
  const fresh = plan.filter(({ is }) => is === 'donor').length
  const here = persons.filter(({ isHere }) => isHere).length
  const giving = plan.flatMap((item) => (item.is === 'giving' ? [item] : []))
  const gifts = giving.flatMap(({ day, isThanked, gifts: own }) => own.map((gift) => ({ gift, day, isThanked })))
  const things = gifts.filter(({ gift }) => isThing(gift))
  const came = things.filter(({ day }) => day !== null)
  const parcels = giving.filter(({ day, gifts: own }) => day !== null && own.some(isThing)).length
  const money = gifts.flatMap(({ gift }) => gift.amountMinor ?? [])
  const minutes = gifts.flatMap(({ gift }) => gift.minutes ?? [])
  const postage = gifts.filter(({ gift }) => gift.kind === 'postage').length
  const promised = things.length - came.length
  const thanked = gifts.filter(({ isThanked }) => isThanked).length
  const due = gifts.filter(({ day, isThanked }) => day !== null && !isThanked).length
  return [
    fresh > 0 ? `${counted(fresh, 'new donor', 'new donors')}, named nowhere until they have been asked` : '',
    here > 0 ? `${counted(here, 'donor who is here already keeps', 'donors who are here already keep')} what is known of them` : '',
    came.length > 0 ? `${counted(came.length, 'gift', 'gifts')} that came, in ${counted(parcels, 'parcel', 'parcels')}` : '',
    promised > 0 ? counted(promised, 'promise', 'promises') : '',
    minutes.length > 0
      ? `${counted(minutes.length, 'gift of help', 'gifts of help')}, ${minutes.reduce((sum, one) => sum + one, 0)} minutes in all`
      : '',
    money.length > 0 && currency
      ? `${counted(money.length, 'gift of money', 'gifts of money')}, ${showMoney(
          money.reduce((sum, one) => sum + one, 0),
          currency,
        )} in all, which counts in no total: what came into the account is booked under Money`
      : '',
    postage > 0 ? counted(postage, 'gift of postage', 'gifts of postage') : '',
    thanked > 0 ? `${counted(thanked, 'of these is noted as thanked', 'of these are noted as thanked')}` : '',
    due > 0 ? `${counted(due, 'is', 'are')} put on the list of thanks that are due` : '',
    things.length > 0 ? 'What was given stays in words: nothing is put on the shelf by this sheet' : '',
  ].filter(Boolean)
}
