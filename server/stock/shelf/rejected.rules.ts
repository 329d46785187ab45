import { planVerdict, type Tested } from './sampling.rules'

export interface PlanFacts {
  plan: { sample: number; accept: number } | undefined
  /** What the sample showed, and nothing else: bad and good ones found in machines were not drawn at random. */
  sampled: Tested
  /** Of the batch, neither tested nor fitted. */
  untested: number
  isWaived: boolean
}

/** Rejected by its own plan, and not sorted to the last piece since, and not waived: nothing of it is fitted. */
export const isBarred = ({ plan, sampled, untested, isWaived }: PlanFacts): boolean =>
  plan !== undefined && !isWaived && untested > 0 && planVerdict(plan, sampled) === 'rejected'

export const sampledOf = (tests: readonly Tested[]): Tested => ({
  tested: tests.reduce((sum, row) => sum + row.tested, 0),
  bad: tests.reduce((sum, row) => sum + row.bad, 0),
})
