import type { Minor } from '#kernel/money'
import { comesTo } from '#sale/price/result.rules'
import type { GiftKind, GiftState } from '#stock/donors/donor.contract'
import { listWords } from '#stock/donors/gift.rules'
import { shortTags } from './thanks-letter.rules'

/** A lot as the giver of something in it may know it. */
export interface OutcomeLot {
  id: string
  number: number
  title: string
  state: 'draft' | 'ready' | 'open' | 'held' | 'sold' | 'unsold' | 'withdrawn'
  hammerMinor: Minor | null
  standsMinor?: Minor
}

/** What became of one gift, walked forward through batch, piece and fitting to the lots. */
export interface Outcome {
  giftId: string
  what: string
  kind: GiftKind
  quantity: number
  minutes: number | null
  state: GiftState
  machines: { unitId: string; tag: string; designators: string[]; lot: OutcomeLot | null }[]
  /** Lots with which it goes as an extra. */
  withLots: OutcomeLot[]
  inHand: number
  failed: number
  isQuarantined: boolean
}

export interface Raised {
  lots: number
  minor: Minor
  numbers: number[]
  /** Every machine that these gifts are in has been sold. */
  isAll: boolean
}

/** Each lot that a gift had a part in, once. */
export const lotsBehind = (outcomes: readonly Outcome[]): OutcomeLot[] => [
  ...new Map(
    outcomes.flatMap(({ machines, withLots }) => [...machines.flatMap(({ lot }) => lot ?? []), ...withLots]).map((lot) => [lot.id, lot]),
  ).values(),
]

const isSold = (lot: OutcomeLot | null): boolean => lot !== null && comesTo(lot) > 0

/** What the sold lots with these gifts in them raised together; the lots' own result, never a value of a gift. */
export function raisedBy(outcomes: readonly Outcome[]): Raised | null {
  const sold = lotsBehind(outcomes).filter(isSold)
  if (sold.length === 0) return null
  return {
    lots: sold.length,
    minor: sold.reduce((sum, lot) => sum + comesTo(lot), 0),
    numbers: sold.map(({ number }) => number).sort((one, other) => one - other),
    isAll: outcomes.every(({ machines, withLots }) => machines.every(({ lot }) => isSold(lot)) && withLots.every(isSold)),
  }
}

const NUMBERS = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten', 'eleven', 'twelve']
const inWords = (count: number): string => NUMBERS[count] ?? String(count)

/** "Those three lots raised £612.00 together."; by their numbers where others with the gift in them have not been sold. */
export function raisedWords({ lots, minor, numbers, isAll }: Raised, money: (minor: Minor) => string): string {
  const [which, together] = lots === 1 ? ['That lot', ''] : [`Those ${inWords(lots)} lots`, ' together']
  const named = lots === 1 ? `Lot ${numbers[0]}` : `Lots ${listWords(numbers.map(String), 'and')}`
  return `${isAll ? which : named} raised ${money(minor)}${together}.`
}

/** How much was given: "20 × Crystal", "4 h of help: winding coils", "Postage". A gift of money is the one amount that may be said. */
export function givenWords({ what, quantity, minutes, kind }: Pick<Outcome, 'what' | 'quantity' | 'minutes' | 'kind'>): string {
  if (minutes !== null) return `${minutes % 60 === 0 ? `${minutes / 60} h` : `${minutes} min`} of help: ${what}`
  if (kind === 'postage' || kind === 'money') return what
  return quantity > 0 ? `${quantity} × ${what}` : what
}

/** "14 fitted in TERN-01, -02 and -05, 4 kept as spares, 2 failed." Empty while there is nothing to tell. */
export function becameSentence(outcome: Outcome): string {
  const { machines, inHand, failed, isQuarantined, minutes, kind, withLots } = outcome
  const tags = shortTags(machines.map(({ tag }) => tag))
  const isHelp = minutes !== null || kind === 'postage' || kind === 'money'
  const fitted = machines.reduce((sum, { designators }) => sum + designators.length, 0)
  const isThing = fitted === 0 && !isHelp
  const parts = [
    fitted > 0 ? `${fitted} fitted in ${tags}` : '',
    fitted === 0 && machines.length > 0 ? `${isHelp ? 'it helped to make' : 'it was for'} ${tags}` : '',
    withLots.length > 0
      ? `it goes with ${listWords(
          withLots.map(({ number }) => `lot ${number}`),
          'and',
        )}`
      : '',
    isThing && outcome.state === 'available' && inHand === 0 && machines.length === 0 && withLots.length === 0 ? 'here, and in use' : '',
    inHand > 0 ? `${inHand} kept as spares` : '',
    failed > 0 ? `${failed} failed` : '',
    isQuarantined ? 'the rest set aside because something about it is in doubt' : '',
  ].filter(Boolean)
  const words = parts.join(', ')
  return words === '' ? '' : `${words.charAt(0).toUpperCase()}${words.slice(1)}.`
}

/** "Your 20 × Crystal: 14 fitted in TERN-01, -02 and -05, 4 kept as spares, 2 failed. Those three lots raised £612.00 together." */
export function outcomeWords(outcome: Outcome, money: (minor: Minor) => string): string {
  const became = becameSentence(outcome)
  const raised = raisedBy([outcome])
  const head = `Your ${lowerFirst(givenWords(outcome))}`
  return [became === '' ? `${head}.` : `${head}: ${lowerFirst(became)}`, raised ? raisedWords(raised, money) : ''].filter(Boolean).join(' ')
}

// A designator or a tag at the head keeps its capitals; an ordinary word gives its one up.
const lowerFirst = (words: string): string => (/^[A-Z][a-z]/.test(words) ? words.charAt(0).toLowerCase() + words.slice(1) : words)
