import type { Minor } from '#kernel/money'
import { coverReceipts, type Pot } from '../journal/covering.rules'
import { type MatchFacts, matchAll, type StandingLot, standingForCause } from '../matching/matching.rules'

/** One thing that the meter counts. Each penny of it is in one of the four states. */
export interface RaisedPart {
  of: 'lot' | 'gifts' | 'matched'
  lot: number | null
  words: string
  bidMinor: Minor
  /** Won and not paid; of matched giving, promised for what is won and given, and not sent yet. */
  wonMinor: Minor
  paidMinor: Minor
  remittedMinor: Minor
}

/** Everything that counts, lots in the order given, then gifts of money and matched giving; what counts for nothing is left out. */
export function raisedParts(
  facts: MatchFacts,
  lots: readonly { id: string; number: number; words: string; standing: StandingLot | undefined }[],
): RaisedPart[] {
  const { accounts, gifts, matched } = coverReceipts(facts.entries)
  const byLot = new Map(accounts.map((account) => [account.lotId, account]))
  const promised = matchAll(facts)
  const sum = (key: 'bidMinor' | 'wonMinor') => promised.reduce((all, one) => all + one[key], 0)
  const parts = [
    ...lots.map(({ id, number, words, standing }): RaisedPart => {
      const { wonMinor, paidMinor, remittedMinor } = byLot.get(id) ?? { wonMinor: 0, paidMinor: 0, remittedMinor: 0 }
      const bidMinor = standing ? standingForCause([standing], facts.shareBp) : 0
      return { of: 'lot', lot: number, words, bidMinor, wonMinor, paidMinor, remittedMinor }
    }),
    { of: 'gifts' as const, lot: null, words: 'Gifts of money', bidMinor: 0, wonMinor: 0, ...stateOf(gifts) },
    {
      of: 'matched' as const,
      lot: null,
      words: 'Matched giving',
      bidMinor: sum('bidMinor'),
      wonMinor: sum('wonMinor'),
      ...stateOf(matched),
    },
  ]
  return parts.filter(({ bidMinor, wonMinor, paidMinor, remittedMinor }) =>
    [bidMinor, wonMinor, paidMinor, remittedMinor].some((minor) => minor !== 0),
  )
}

const stateOf = ({ receivedMinor, remittedMinor }: Pot) => ({ paidMinor: receivedMinor - remittedMinor, remittedMinor })
