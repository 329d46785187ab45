import type { BankQuestion, BankRow } from './statement-questions.rules'

/** A line that is here already, as far as it tells whether it comes once more in another layout. */
export interface KeptLine {
  id: string
  bookedOn: string
  valueOn: string
  amountMinor: number
  words: string
  name: string
  reference: string
  file: string
}

export interface Again {
  row: BankRow
  kept: KeptLine
  isSure: boolean
}

/** Every word and number that a line says, once. */
function signsOf({ words, name, reference }: Pick<BankRow, 'words' | 'name' | 'reference'>): Set<string> {
  const text = `${reference} ${words} ${name}`.normalize('NFKC').toUpperCase()
  return new Set(text.split(/[^\p{L}\p{N}]+/u).filter(({ length }) => length > 1))
}

/**
 * Which new lines may be payments that are here already, read from another layout: the same day and amount. It is sure where
 * one of the two says all that the other does; else it is a doubt. Each kept line is met once.
 */
export function comeAgain(rows: readonly BankRow[], kept: readonly KeptLine[]): Again[] {
  const free = new Set(kept)
  const found: Again[] = []
  const meet = (isSure: boolean) => {
    for (const row of rows) {
      if (found.some((one) => one.row === row)) continue
      const signs = signsOf(row)
      for (const one of free) {
        const isSameDay = [one.bookedOn, one.valueOn].includes(row.on) || (row.valueOn !== undefined && row.valueOn === one.valueOn)
        if (!isSameDay || one.amountMinor !== row.amountMinor) continue
        const others = signsOf(one)
        const [fewer, more] = signs.size <= others.size ? [signs, others] : [others, signs]
        if (isSure && (fewer.size === 0 || [...fewer].some((sign) => !more.has(sign)))) continue
        free.delete(one)
        found.push({ row, kept: one, isSure })
        break
      }
    }
  }
  meet(true)
  meet(false)
  return found
}

export function againQuestion(found: readonly Again[], choice: { again?: 'same' | 'another' }): BankQuestion[] {
  const [first, ...more] = found.filter(({ isSure }) => !isSure)
  if (!first) return []
  const others = more.length > 0 ? `, and ${more.length} more like that` : ''
  const said = [first.kept.name, first.kept.words, first.kept.reference].filter(Boolean).join(' · ').slice(0, 80) || 'nothing'
  return [
    {
      ask: 'again',
      words: `Line ${first.row.line} has the day and the amount of a line from ${first.kept.file || 'an earlier file'} that says “${said}”${others}. Is it the same payment?`,
      answers: [
        { value: 'same', label: 'The same payment in another layout: leave it out' },
        { value: 'another', label: 'Another payment: import it' },
      ],
      isAnswered: choice.again !== undefined,
    },
  ]
}
