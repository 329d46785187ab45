import { downstreamOf } from '../designs/blocks.rules'
import type { Feed } from '../designs/design.contract'
import { BY_ITSELF, type Catches, SLIP } from './catch.rules'
import type { Seen } from './suspects.rules'

/** What somebody saw at a point of a unit. */
export interface Observed {
  id: string
  at: number
  block: string
  isGood: boolean
  isPowered: boolean
}

/** A point shows a part of its block, and with power on what feeds it. Common practice, no source. */
export const POINT_CATCH = 0.6

/** No check has this name. */
const keyOf = ({ id }: Pick<Observed, 'id'>) => `seen ${id}`

/** Those that no later change could have touched: what was seen before it speaks of another machine. */
export const stillTrue = (
  observed: readonly Observed[],
  changes: readonly { at: number; blocks: readonly string[] }[],
  feeds: readonly Feed[],
): Observed[] =>
  observed.filter(
    ({ at, block }) =>
      !changes.some((change) => change.at > at && (change.blocks.includes(block) || downstreamOf(change.blocks, feeds).has(block))),
  )

/** The same as evidence, with what each would have caught: it is reckoned as a check of its block is. */
export function asEvidence(observed: readonly Observed[], feeds: readonly Feed[], catches: Catches): { seen: Seen[]; catches: Catches } {
  const turned = feeds.map(({ from, to, kind }) => ({ from: to, to: from, kind }))
  const rows = observed.map((one) => {
    const feeding = one.isPowered ? [...downstreamOf([one.block], turned)].map((block) => [block, POINT_CATCH] as const) : []
    return [keyOf(one), new Map([...feeding, [one.block, POINT_CATCH] as const, [BY_ITSELF, SLIP] as const])] as const
  })
  return {
    seen: observed.map((one) => ({ check: keyOf(one), failed: !one.isGood })),
    catches: new Map([...catches, ...rows]),
  }
}
