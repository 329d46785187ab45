import { countWord } from '#app/(public)/_lots/say-lot.rules.ts'
import { readAmount } from '#app/(public)/lots/[number]/amount.rules.ts'
import type { Currency } from '#kernel/money'
import type { FieldWords } from '#kernel/refusal'
import type { EitherOrLot } from '#sale/either-or/either-or.contract'
import type { EitherOr } from '#sale/either-or/either-or.rules'
import { askSlip } from '#sale/price/slip.rules'
import type { DayOf } from './day-of'

/** One place of an either-or that is being written: a lot, once it is chosen, and the most for it as it was typed. */
export interface Row {
  id: number
  lot: string
  maximum: string
}

interface Around {
  lots: readonly EitherOrLot[]
  currency: Currency
  day: DayOf
  mostWins: number
}

/** What is written so far as an either-or, and its posts on the line; an amount that cannot be read yet counts as enough. */
export function drawn(rows: readonly Row[], { lots, currency, mostWins, day }: Around) {
  const chosen = rows.filter(({ lot }, index) => lot !== '' && !rows.slice(0, index).some((row) => row.lot === lot))
  const links = chosen.map(({ lot, maximum }, index) => ({
    place: index + 1,
    lot: Number(lot),
    maximumMinor: amountIn(maximum, currency),
    phase: 'waiting' as const,
    hammerMinor: null,
  }))
  const posts = links.map((link, index) => ({
    at: lots.find(({ number }) => number === link.lot)?.closesAt ?? day.opensAt,
    label: `Lot ${link.lot}`,
    kind: 'coming' as const,
    order: link.place,
    phase: index < mostWins ? ('awake' as const) : ('waiting' as const),
  }))
  return { eitherOr: { mostWins, capMinor: null, links } satisfies EitherOr, posts }
}

function amountIn(text: string, currency: Currency): number {
  const amount = readAmount(text, currency)
  return typeof amount === 'number' ? amount : Number.MAX_SAFE_INTEGER
}

/** The rows that are sent: those with a lot. */
export const sentRows = (rows: readonly Row[]): Row[] => rows.filter(({ lot }) => lot !== '')

/** What is asked before these amounts bind, at the field of each; nothing for one that the house will refuse anyway. */
export function slipsIn(rows: readonly Row[], { lots, currency }: Pick<Around, 'lots' | 'currency'>): FieldWords {
  const questions = sentRows(rows).flatMap(({ lot, maximum }, index) => {
    const prices = lots.find(({ number }) => String(number) === lot)
    const amount = readAmount(maximum, currency)
    const words = prices && typeof amount === 'number' ? askSlip({ ...prices, currency }, amount) : null
    return words === null ? [] : [[`links.${index}.maximum`, words]]
  })
  return Object.fromEntries(questions)
}

/** What an either-or came to when it was made: what stands as a bid at once, and what waits for its turn. */
export function sayMade(stands: readonly string[], waiting: number): string {
  if (stands.length === 0)
    return waiting === 0
      ? 'Kept, but none of its lots can be bid on any more.'
      : 'Kept. No bid stands yet: the first lot is on hold, and your bid is placed once its clock runs again.'
  const taken = `Taken, and checked in this browser: ${stands.join(', ')}.`
  if (waiting === 0) return taken
  const lots = countWord(waiting).replace(/^./, (letter) => letter.toUpperCase())
  return `${taken} ${lots} more ${waiting === 1 ? 'lot waits for its turn' : 'lots wait for their turn'}.`
}
