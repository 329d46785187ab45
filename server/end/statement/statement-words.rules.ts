import { type Minor, showMoney } from '#kernel/money'
import type { Account, AccountPart } from './account.contract'
import type { StatementOrder } from './statement-paper'

/** The account in the words of its paper. The caller gives `drawnOn` in the campaign's zone, and the head as it is read aloud. */
export function statementOrder(
  account: Account,
  told: { drawnOn: string; headDigits: string; size: StatementOrder['size'] },
): StatementOrder {
  const show = (minor: Minor) => showMoney(minor, account.currency)
  const lots = tableOfLots(account.parts)
  return {
    of: 'statement',
    campaign: account.campaign,
    cause: account.causeName,
    registration: account.causeRegistration,
    seller: account.sellerName,
    ...told,
    entries: account.head.entries,
    head: account.head.digest,
    summary: summaryOf(account).map(([what, minor]) => [what, show(minor)] as const),
    lots: lots && {
      heads: LOT_HEADS,
      rows: lots.rows.map(({ lot, unit, reference, minors }) => [`Lot ${lot}`, unit, reference, ...minors.map(show)]),
      totals: lots.totals.map(show),
    },
    parts: otherParts(account.parts).map(({ title, lines, totalMinor }) => ({
      title,
      lines: lines.map(
        ({ what, lot, day, reference, minor }) => [what, lot === null ? '' : String(lot), day, reference, show(minor)] as const,
      ),
      total: show(totalMinor),
    })),
    notes: account.lotNotes.map(({ lot, words }) => `Lot ${lot}: ${words}`),
    rounding: account.rounding,
    variance: show(account.varianceMinor),
    varianceAt: account.varianceAt.map(({ words }) => words),
    author: account.sellerName,
    at: account.drawnAt,
  }
}

/** The sums from the hammer prices to what is still to be sent on. Each of them stands further below with its lines. */
export function summaryOf({ sums, causeShareBp, parts }: Pick<Account, 'sums' | 'causeShareBp' | 'parts'>): [what: string, minor: Minor][] {
  const sum = (key: string): Minor => sums[key] ?? 0
  const share = causeShareBp === null ? 'by the terms of each lot' : causeShareBp === 10_000 ? 'all of them' : `${causeShareBp / 100} %`
  const prices = parts.find(({ key }) => key === 'hammer')?.title ?? 'Hammer prices'
  return [
    [prices, sum('hammer')],
    [`The cause’s share of them (${share})`, sum('share')],
    ['Gifts of money', sum('gifts')],
    ['Matched giving received', sum('matched')],
    ['Postage charged to buyers', sum('postage')],
    ['What sending cost, a part of the costs', sum('sending')],
    ['Costs and fees', sum('costs')],
    ['Unpaid by buyers, including postage', sum('unpaid')],
    ['Passed on to the cause', sum('remitted')],
    ['In the bank for the cause, to be passed on', sum('toRemit')],
  ]
}

/** The parts that have a line for each lot. They are shown side by side in one table, with a row for each lot. */
const LOT_PARTS: readonly string[] = ['hammer', 'share', 'postage', 'paid', 'unpaid']
export const LOT_HEADS = ['Hammer', 'Cause’s share', 'Postage', 'Paid', 'Unpaid'] as const

export interface TableOfLots {
  rows: { lot: number; unit: string; reference: string; minors: Minor[] }[]
  totals: Minor[]
}

/** Null before anything was sold. */
export function tableOfLots(parts: readonly AccountPart[]): TableOfLots | null {
  const columns = LOT_PARTS.flatMap((key) => parts.find((part) => part.key === key) ?? [])
  const [first] = columns
  if (!first || first.lines.length === 0) return null
  return {
    rows: first.lines.map(({ lot, what, reference }, index) => {
      return { lot: lot ?? 0, unit: what, reference, minors: columns.map(({ lines }) => lines[index]?.minor ?? 0) }
    }),
    totals: columns.map(({ totalMinor }) => totalMinor),
  }
}

/** The other parts, without those that are empty. */
export const otherParts = (parts: readonly AccountPart[]): AccountPart[] =>
  parts.filter(({ key, lines }) => !LOT_PARTS.includes(key) && lines.length > 0)
