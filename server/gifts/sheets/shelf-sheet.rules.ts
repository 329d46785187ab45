import { groupBy } from '#kernel/group'
import type { TableRow } from '#kernel/table'
import { hasPieces } from '#stock/catalogue/part.rules'
import { countedThing } from '#stock/donors/count-words.rules'
import { donorIn, type GiftKind } from '#stock/donors/donor.contract'
import { nameKey } from '#stock/donors/merge.rules'
import { type Count, countIn } from './count.rules'
import type { SheetFacts, SheetUnderstood } from './donors-sheet.rules'
import { counted, inLines, type Notes, readDays } from './notes.rules'
import { type KnownPart, partReader, type RowPart } from './part-of-row.rules'
import { isNobody, personsOf, type SheetPerson } from './persons.rules'
import { type Given, givingsOf, NOTHING_MORE } from './plan.rules'
import type { PlanItem, PlannedGift } from './sheets.contract'

export interface ShelfFacts extends SheetFacts {
  catalogue: readonly KnownPart[]
  /** Gifts of those who are here that are noted in words alone, by donor. */
  inWords: Readonly<Record<string, readonly string[]>>
}

/** A tag for each piece: more at once are a slip of the pen. */
const MOST_PIECES = 200
const OWN_SHELF = 'own shelf, from before'

interface ShelfRow {
  line: number
  read: RowPart
  count: Count
  day: string | null
  row: TableRow
}

/** What lies on the shelf, with whoever gave it or where it was bought. */
export function readShelfSheet(
  rows: readonly TableRow[],
  { donors, catalogue, inWords, today }: ShelfFacts,
  notes: Notes,
): SheetUnderstood {
  const partOf = partReader(catalogue, notes)
  const dayOf = readDays(notes, rows, 'day', today)
  const countOf = countReader(rows, notes)
  const read = rows.flatMap((row): ShelfRow[] => {
    const [part, count, day] = [partOf(row), countOf(row), dayOf(row)]
    checkWords(row, notes)
    if (!part || !count) return []
    if (hasPieces({ kind: part.part.kind, programmed: part.part.programmed ?? false }) && count.quantity > MOST_PIECES)
      notes.flaw(row.line, 'quantity', `Each ${part.words} gets a tag of its own: at most ${MOST_PIECES} in one row.`)
    return [{ line: row.line, read: part, count, day, row }]
  })
  askOthers(read, notes)
  const givers = giversOf(read, donors, notes).map((giver) => ({ ...giver, isOut: isLeftOut(giver, inWords, notes) }))
  const giverOf = new Map(givers.flatMap((giver) => giver.lines.map((line) => [line, giver] as const)))
  const given = read.filter(({ line }) => giverOf.get(line)?.isSeller === false)
  const [day, isThanked] = askOfGiven(
    given.filter(({ line }) => giverOf.get(line)?.isOut === false),
    today,
    notes,
  )
  const own = read.filter(({ line }) => giverOf.get(line)?.isSeller !== false)
  const source = askSource(own, giverOf, notes)
  const giftOf = (one: ShelfRow): Given => ({ line: one.line, day: one.day ?? day, note: '', isThanked, gift: asGift(one) })
  const fresh = givers.filter(({ isSeller, isOut }) => !isSeller && !isOut)
  const plan: PlanItem[] = [
    ...fresh.flatMap((giver): PlanItem[] => {
      const lines = new Set(giver.lines)
      const gifts = given.filter(({ line }) => lines.has(line)).map(giftOf)
      return [...(giver.isHere ? [] : [donorOf(giver)]), ...givingsOf(giver, gifts)]
    }),
    ...own.map((one): PlanItem => ({ is: 'own', boughtFrom: source(one), gift: { ...asGift(one), part: one.read.part } })),
  ]
  const understood = new Map(
    read.map((one) => {
      const giver = giverOf.get(one.line)
      const whence = giver?.isOut
        ? 'left out'
        : giver?.isSeller === false
          ? `from ${giver.name}${giver.isHere ? ', here already' : ''}, came on ${one.day ?? day ?? '…'}`
          : `from ${source(one)}`
      return [one.line, [countedThing(one.count, one.read.words), one.row.cells.place ?? '', whence].filter(Boolean).join(' · ')] as const
    }),
  )
  return { understood, plan, summary: summaryOf(plan, read, fresh) }
}

function checkWords({ line, cells }: TableRow, notes: Notes): void {
  const most = { place: 60, marking: 80, 'date code': 40, 'bought from': 120 }
  for (const [column, length] of Object.entries(most))
    if ((cells[column] ?? '').length > length) notes.flaw(line, column, `Keep it under ${length + 1} characters.`)
}

function countReader(rows: readonly TableRow[], notes: Notes): (row: TableRow) => Count | null {
  const empty = rows.filter(({ cells }) => !cells.quantity)
  if (empty.length > 0)
    notes.ask({
      key: 'count',
      words: `It does not say how many there are ${inLines(empty.map(({ line }) => line))}.`,
      options: [{ value: 'not yet', label: 'Not counted yet' }],
    })
  return ({ line, cells: { quantity = '' } }) => {
    const count = quantity === '' ? ({ quantity: 0, howCounted: 'not yet' } as const) : countIn(quantity)
    if (!('words' in count)) return count
    notes.flaw(line, 'quantity', count.words)
    return null
  }
}

function askOthers(read: readonly ShelfRow[], notes: Notes): void {
  const others = read.filter(({ read: { isOther } }) => isOther)
  if (others.length === 0) return
  const [first] = others
  notes.ask({
    key: 'others',
    words: `Nothing says what kind of part “${first?.read.words}” is, ${inLines(others.map(({ line }) => line))}. Each would be kept by its words alone, under “other”.`,
    options: [{ value: 'yes', label: 'Keep them so' }],
  })
}

type Giver = SheetPerson & { isSeller: boolean }

/** Whoever the rows are from: a name stands for one person wherever it stands, and may be a shop's. */
function giversOf(read: readonly ShelfRow[], donors: ShelfFacts['donors'], notes: Notes): Giver[] {
  const named = read.filter(({ row }) => row.cells.from && !isNobody(row.cells.from))
  const byName = groupBy(named, ({ row }) => nameKey(row.cells.from ?? ''))
  const firsts = [...byName.values()].flatMap(([one]) => one ?? [])
  const fit = firsts.filter(({ line, row }) => {
    const checked = donorIn.safeParse({ name: row.cells.from })
    if (!checked.success) notes.flaw(line, 'from', checked.error.issues[0]?.message ?? 'Write who it is from.')
    return checked.success
  })
  const persons = personsOf(
    fit.map(({ line, row }) => ({ line, name: row.cells.from ?? '', mail: '' })),
    donors,
    notes,
  )
  return persons.map((person) => {
    const own = byName.get(nameKey(fit.find(({ line }) => line === person.lines[0])?.row.cells.from ?? ''))
    const lines = (own ?? []).map(({ line }) => line)
    return { ...person, lines, isSeller: !person.isHere && isSeller(person.name, lines, notes) }
  })
}

const isSeller = (name: string, lines: readonly number[], notes: Notes): boolean =>
  notes.ask({
    key: `giver ${nameKey(name)}`,
    group: 'giver',
    words: `“${name}” ${inLines(lines)}: who is it?`,
    options: [
      { value: 'donor', label: 'A donor, who is new here' },
      { value: 'seller', label: 'A seller: it was bought there' },
    ],
  }) === 'seller'

/** What is noted in words already must not be noted again as another gift. */
function isLeftOut({ donor, name, lines, isHere }: Giver, inWords: ShelfFacts['inWords'], notes: Notes): boolean {
  const before = isHere ? (inWords[donor] ?? []) : []
  if (before.length === 0) return false
  const said = before.slice(0, 3).join('”, “')
  const answer = notes.ask({
    key: `again ${donor}`,
    group: 'again',
    words: `${name} has gifts here that are noted in words: “${said}”${before.length > 3 ? ` and ${before.length - 3} more` : ''}. Is what stands ${inLines(lines)} among them?`,
    options: [
      { value: 'more', label: 'No, it came besides' },
      { value: 'out', label: 'Yes: leave these rows out, and I say on the donor’s page which part each gift is' },
    ],
  })
  return answer === 'out'
}

function askOfGiven(given: readonly ShelfRow[], today: string, notes: Notes): [day: string | null, isThanked: boolean] {
  if (given.length === 0) return [null, false]
  const dayless = given.filter(({ day, row }) => day === null && !row.cells.day)
  let day =
    dayless.length === 0
      ? null
      : notes.ask({
          key: 'day',
          words: `No day is given for what was given ${inLines(dayless.map(({ line }) => line))}. On which day shall it be noted?`,
          options: [],
          typed: { label: 'The day to note it under', type: 'date' },
        })
  if (day !== null && day > today) {
    notes.flaw(0, 'day', 'The day to note gifts under is still to come. Choose today or an earlier day.')
    day = null
  }
  const thanked = notes.ask({
    key: 'thanked',
    words:
      'Have those been thanked who gave what stands in this sheet? Whoever has not been thanked is put on the list of thanks that are due.',
    options: [
      { value: 'yes', label: 'Yes, all of them' },
      { value: 'no', label: 'No, not yet' },
    ],
  })
  return [day, thanked === 'yes']
}

function askSource(own: readonly ShelfRow[], giverOf: ReadonlyMap<number, Giver>, notes: Notes): (one: ShelfRow) => string {
  const said = ({ line, row }: ShelfRow) => row.cells['bought from'] || giverOf.get(line)?.name || ''
  const silent = own.filter((one) => said(one) === '')
  const answer =
    silent.length === 0
      ? null
      : notes.ask({
          key: 'source',
          words: `It does not say where it is from, ${inLines(silent.map(({ line }) => line))}.`,
          options: [{ value: 'own', label: 'From my own shelf' }],
          typed: { label: 'It was bought from', type: 'text' },
        })
  const otherwise = answer === null || answer === 'own' ? OWN_SHELF : answer.slice(0, 120)
  return (one) => said(one) || otherwise
}

function asGift({ read, count, row: { cells } }: ShelfRow): PlannedGift {
  const { kind: partKind } = read.part
  const kind: GiftKind = partKind === 'board' ? 'boards' : partKind === 'case' ? 'cases' : 'parts'
  const rest = read.rest.slice(0, 80)
  return {
    ...NOTHING_MORE,
    ...count,
    kind,
    words: '',
    part: read.part,
    marking: cells.marking || rest,
    dateCode: cells['date code'] ?? '',
    place: cells.place ?? '',
  }
}

const donorOf = ({ donor, name }: SheetPerson): PlanItem => ({
  is: 'donor',
  donor,
  name,
  creditName: '',
  contact: '',
  anonymity: 'named',
  isStandIn: false,
})

function summaryOf(plan: readonly PlanItem[], read: readonly ShelfRow[], givers: readonly Giver[]): string[] {
  const given = plan.flatMap((item) => (item.is === 'giving' ? item.gifts : []))
  const own = plan.filter(({ is }) => is === 'own').length
  const fresh = givers.filter(({ isHere }) => !isHere).length
  const parcels = plan.filter((item) => item.is === 'giving').length
  const stored = given.length + own
  const unknown = new Set(read.flatMap(({ read: { isKnown, sameness } }) => (isKnown ? [] : [sameness]))).size
  const uncounted = read.filter(({ count }) => count.howCounted === 'not yet').length
  const about = read.filter(({ count }) => count.howCounted === 'about').length
  const out = read.length - stored
  return [
    `${counted(stored, 'batch', 'batches')} on the shelf`,
    unknown > 0 ? `${counted(unknown, 'part', 'parts')} new in the catalogue` : '',
    given.length > 0
      ? `${counted(given.length, 'of them is a gift', 'of them are gifts')}, in ${counted(parcels, 'parcel', 'parcels')}`
      : '',
    own > 0 ? `${counted(own, 'was', 'were')} not given` : '',
    fresh > 0 ? `${counted(fresh, 'new donor', 'new donors')}, named nowhere until they have been asked` : '',
    about > 0 ? `${counted(about, 'number is', 'numbers are')} a guess, and said so` : '',
    uncounted > 0 ? `${counted(uncounted, 'is', 'are')} not counted yet, and no stock until then` : '',
    out > 0 ? `${counted(out, 'row is', 'rows are')} left out` : '',
  ].filter(Boolean)
}
