import type { Minor } from '#kernel/money'
import type { TableChoice } from '#kernel/table-in'
import { type DayOrder, dayOrderOf, readDay } from '#kernel/written-day'

export interface BankChoice extends TableChoice {
  dayOrder?: DayOrder
  sign?: 'as it stands' | 'turned'
  twins?: 'once' | 'each'
  /** What has the day and amount of a line that is here already. */
  again?: 'same' | 'another'
  /** Read by what it says itself, whatever is remembered of its bank. */
  afresh?: boolean
}

export interface BankRow {
  line: number
  /** The day on which the bank booked it. */
  on: string
  /** The day from which it counts, where the file tells it apart. */
  valueOn?: string
  /** Where it is not in the currency of the books: then it is set aside with its amount. */
  currency?: string
  amountMinor: Minor
  words: string
  name: string
  reference: string
  /** As written; tells two lines apart that are the same in all else. */
  balance: string
}

/** What the file alone does not say. `isAnswered` once the reader has said it. */
export interface BankQuestion {
  ask: 'dayOrder' | 'sign' | 'twins' | 'again'
  words: string
  answers: { value: string; label: string }[]
  isAnswered: boolean
}

/** Which of two ways a date is meant. */
export function dayQuestion(dates: readonly string[], choice: BankChoice): BankQuestion {
  const example = dates.find((text) => dayOrderOf([text]) === 'asked') ?? ''
  const said = (order: DayOrder) => readDay(example, order) ?? 'no day'
  return {
    ask: 'dayOrder',
    words: `"${example}" can be read in two ways. Which is it?`,
    answers: [
      { value: 'day first', label: `Day first: ${said('day first')}` },
      { value: 'month first', label: `Month first: ${said('month first')}` },
    ],
    isAnswered: choice.dayOrder !== undefined,
  }
}

/** Money that names our own lots stands with a minus, or everything does: perhaps the file says it from the other side. */
export function signQuestion(rows: readonly BankRow[], choice: BankChoice, isOurs: (text: string) => boolean): BankQuestion[] {
  const turned = choice.sign === 'turned' ? -1 : 1
  const ours = rows.filter((row) => row.amountMinor * turned < 0 && isOurs(`${row.reference} ${row.words}`))
  const isAllOut = rows.length > 1 && rows.every((row) => row.amountMinor * turned < 0)
  if (ours.length === 0 && !isAllOut) return []
  const why = ours[0] ? `Line ${ours[0].line} names one of our lots and has a minus sign.` : 'Every amount in this file has a minus sign.'
  return [
    {
      ask: 'sign',
      words: `${why} Did that money come in or go out?`,
      answers: [
        { value: 'as it stands', label: 'It went out: a minus sign means money that left' },
        { value: 'turned', label: 'It came in: this file reverses the signs' },
      ],
      isAnswered: choice.sign !== undefined,
    },
  ]
}

const contentOf = ({ on, amountMinor, words, name, reference, balance }: BankRow): string =>
  JSON.stringify([on, amountMinor, words, name, reference, balance])

/** Two lines that are the same in everything: one payment written twice, or two of one kind. */
export function twinQuestion(rows: readonly BankRow[], choice: BankChoice): BankQuestion[] {
  const seen = new Map<string, number>()
  const twins: [number, number][] = []
  for (const row of rows) {
    const before = seen.get(contentOf(row))
    if (before === undefined) seen.set(contentOf(row), row.line)
    else twins.push([before, row.line])
  }
  const [first] = twins
  if (!first) return []
  const more = twins.length > 1 ? `, and ${twins.length - 1} more like that` : ''
  return [
    {
      ask: 'twins',
      words: `Line ${first[1]} is the same as line ${first[0]} in everything${more}.`,
      answers: [
        { value: 'once', label: 'The same line twice: import it once' },
        { value: 'each', label: 'Two payments alike: import both' },
      ],
      isAnswered: choice.twins !== undefined,
    },
  ]
}

/** Each line once. */
export function withoutTwins(rows: readonly BankRow[]): BankRow[] {
  const seen = new Set<string>()
  return rows.filter((row) => {
    const content = contentOf(row)
    if (seen.has(content)) return false
    seen.add(content)
    return true
  })
}
