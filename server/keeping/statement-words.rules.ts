import type { StatementOrder } from '../documents/statement-paper'
import { type Minor, showMoney } from '../kernel/money'
import type { Account } from './account.contract'

/** The account as a paper says it. `drawnOn` and the digits of the head come from whoever knows the zone and the way digits are read aloud. */
export function statementOrder(
  account: Account,
  told: { drawnOn: string; headDigits: string; size: StatementOrder['size'] },
): StatementOrder {
  const show = (minor: Minor) => showMoney(minor, account.currency)
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
    parts: account.parts
      .filter(({ lines }) => lines.length > 0)
      .map(({ title, lines, totalMinor }) => ({
        title,
        lines: lines.map(
          ({ what, lot, day, reference, minor }) => [what, lot === null ? '' : String(lot), day, reference, show(minor)] as const,
        ),
        total: show(totalMinor),
      })),
    variance: show(account.varianceMinor),
    varianceAt: account.varianceAt.map(({ words }) => words),
    author: account.sellerName,
    at: account.drawnAt,
  }
}

/** From the hammer to what is still to be sent on, each step an amount that stands below with its lines. */
export function summaryOf({ sums, causeShareBp }: Pick<Account, 'sums' | 'causeShareBp'>): [what: string, minor: Minor][] {
  const sum = (key: string): Minor => sums[key] ?? 0
  const share = causeShareBp === 10_000 ? 'all of them' : `${causeShareBp / 100} %`
  return [
    ['Hammer prices', sum('hammer')],
    [`The cause’s share of them (${share})`, sum('share')],
    ['Gifts of money', sum('gifts')],
    ['Matched giving that came', sum('matched')],
    ['Costs and fees', sum('costs')],
    ['Unpaid by buyers, postage included', sum('unpaid')],
    ['Sent on to the cause', sum('remitted')],
    ['In the bank for the cause, to send on', sum('toRemit')],
  ]
}
