import type { Instant } from '#kernel/instant'
import type { Minor } from '#kernel/money'
import type { Pot } from '../journal/covering.rules'
import { type JournalEntry, type LotAccount, sumOf } from '../journal/lot-account.rules'

/** What one machine brought for the cause; gifts of money and matched giving stand beside the machines. */
export interface MachinePart {
  words: string
  lot: number | null
  /** In the bank or sent on, and won but not yet paid. */
  paidMinor: Minor
  wonMinor: Minor
}

/** What came to count in one hour of the campaign's clock. A price counts in the hour of its hammer, a gift in that of its entry. */
export interface HourPart {
  fromAt: Instant
  lotsMinor: Minor
  giftMinor: Minor
  matchedMinor: Minor
}

/** A batch of machines: what it raised, hammer prices whole, and what was spent for it. */
export interface BatchPart {
  run: string
  design: string
  sold: number
  raisedMinor: Minor
  forCauseMinor: Minor
  costMinor: Minor
}

export interface MachineOf {
  lotId: string
  lot: number
  title: string
  unit: string
  runId: string
}

export function machineParts(accounts: readonly LotAccount[], machines: readonly MachineOf[], gifts: Pot, matched: Pot): MachinePart[] {
  const parts = machines.flatMap(({ lotId, lot, title, unit }): MachinePart[] => {
    const account = accounts.find((each) => each.lotId === lotId)
    if (!account || account.causeMinor === 0) return []
    return [{ words: `${unit}, ${title}`, lot, paidMinor: account.paidMinor + account.remittedMinor, wonMinor: account.wonMinor }]
  })
  const pots = [
    { words: 'Gifts of money', lot: null, paidMinor: gifts.receivedMinor, wonMinor: 0 },
    { words: 'Matched giving received', lot: null, paidMinor: matched.receivedMinor, wonMinor: 0 },
  ]
  return [...parts, ...pots.filter(({ paidMinor }) => paidMinor > 0)].sort((a, b) => b.paidMinor + b.wonMinor - a.paidMinor - a.wonMinor)
}

const HOUR = 3_600_000

/**
 * By hours of the clock in the campaign's zone, whose offset to UTC `offsetAt` gives in milliseconds. A price that
 * was let go or fell through is taken from the hour in which it came, so the hours sum to what stands now.
 */
export function hourParts(entries: readonly JournalEntry[], offsetAt: (at: Instant) => number): HourPart[] {
  const hours = new Map<Instant, HourPart>()
  const cameAt = new Map<string, Instant>()
  for (const entry of entries) {
    const { kind, lotId, at } = entry
    const isPrice = kind === 'hammer' || kind === 'resale' || kind === 'reversal' || kind === 'reduction'
    if (!isPrice && kind !== 'gift' && kind !== 'matched') continue
    if ((kind === 'hammer' || kind === 'resale') && lotId !== null) cameAt.set(lotId, at)
    const origin = isPrice ? (cameAt.get(lotId ?? '') ?? at) : (entries.find(({ id }) => id === entry.correctsId)?.at ?? at)
    const fromAt = Math.floor((origin + offsetAt(origin)) / HOUR) * HOUR - offsetAt(origin)
    const hour = hours.get(fromAt) ?? { fromAt, lotsMinor: 0, giftMinor: 0, matchedMinor: 0 }
    const minor = 0 - sumOf([entry], 'owed-to-cause')
    if (isPrice) hour.lotsMinor += minor
    else if (kind === 'gift') hour.giftMinor += minor
    else hour.matchedMinor += minor
    hours.set(fromAt, hour)
  }
  return [...hours.values()]
    .filter(({ lotsMinor, giftMinor, matchedMinor }) => lotsMinor + giftMinor + matchedMinor !== 0)
    .sort((a, b) => a.fromAt - b.fromAt)
}

export interface CostFor {
  runId: string | null
  lotId: string | null
  amountMinor: Minor
}

/** A cost for a lot is one of its batch; what names neither is shared by all. */
export function batchParts(
  runs: readonly { id: string; tagPrefix: string; design: string }[],
  machines: readonly MachineOf[],
  accounts: readonly LotAccount[],
  costs: readonly CostFor[],
): { batches: BatchPart[]; sharedCostMinor: Minor } {
  const runOfLot = new Map(machines.map(({ lotId, runId }) => [lotId, runId]))
  const runOf = ({ runId, lotId }: CostFor) => runId ?? (lotId === null ? null : (runOfLot.get(lotId) ?? null))
  const spent = (runId: string | null) =>
    costs.filter((cost) => runOf(cost) === runId).reduce((sum, { amountMinor }) => sum + amountMinor, 0)
  const batches = runs.map(({ id, tagPrefix, design }): BatchPart => {
    const mine = accounts.filter(({ lotId, hammerMinor }) => runOfLot.get(lotId) === id && hammerMinor > 0)
    return {
      run: tagPrefix,
      design,
      sold: mine.length,
      raisedMinor: mine.reduce((sum, { hammerMinor }) => sum + hammerMinor, 0),
      forCauseMinor: mine.reduce((sum, { causeMinor }) => sum + causeMinor, 0),
      costMinor: spent(id),
    }
  })
  return { batches: batches.filter(({ raisedMinor, costMinor }) => raisedMinor > 0 || costMinor > 0), sharedCostMinor: spent(null) }
}
