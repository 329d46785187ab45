import type { Currency } from '#kernel/money'
import type { EarlierIn } from './earlier.contract'

/** What the machines of one design come to that were built before this house. */
export interface EarlierDesign {
  design: string
  machines: number
  /** Of those whose hours are known: how many, and their mean in minutes. */
  timed: number
  meanMinutes: number | null
  /** What they raised, by currency; sums of different currencies are never added. */
  raised: { currency: Currency; machines: number; minor: number }[]
}

export function byDesign(machines: readonly EarlierIn[]): EarlierDesign[] {
  const designs = new Map<string, EarlierIn[]>()
  for (const one of machines) {
    const key = one.design.toLowerCase()
    const before = designs.get(key)
    if (before) before.push(one)
    else designs.set(key, [one])
  }
  return [...designs.values()].map((own) => {
    const timed = own.flatMap(({ minutes }) => minutes ?? [])
    const raised = new Map<Currency, { machines: number; minor: number }>()
    for (const { currency, raisedMinor } of own) {
      if (currency === null || raisedMinor === null) continue
      const { machines: many = 0, minor = 0 } = raised.get(currency) ?? {}
      raised.set(currency, { machines: many + 1, minor: minor + raisedMinor })
    }
    return {
      design: own[0]?.design ?? '',
      machines: own.length,
      timed: timed.length,
      meanMinutes: timed.length === 0 ? null : Math.round(timed.reduce((sum, one) => sum + one, 0) / timed.length),
      raised: [...raised].map(([currency, sum]) => ({ currency, ...sum })),
    }
  })
}
