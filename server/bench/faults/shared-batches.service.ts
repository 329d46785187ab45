import { groupBy } from '#kernel/group'
import type { Sight } from '#runtime/queue/turn'
import { collapseDesignators } from '#stock/catalogue/designator.rules'
import { batchesById } from '#stock/shelf/batch.service'
import { downstreamOf } from '../designs/blocks.rules'
import type { Check } from '../designs/design.contract'
import { listRoster } from '../units/roster.service'
import { stateOf, type UnitState } from '../units/unit-state.service'
import type { BatchInRun } from './batch-evidence.rules'
import type { Shared } from './common-cause.rules'
import { failuresOf } from './shared.rules'

/** Batches at positions of the blocks that the check can see: its own, and what feeds them. What was there when it was taken counts, out again or not. */
export function sharedBatches(sight: Sight, check: Check, states: readonly UnitState[]): Shared[] {
  const design = states[0]?.design
  if (!design) return []
  const seen = new Set([
    ...check.exercises,
    ...downstreamOf(
      check.exercises,
      design.feeds.map(({ from, to, kind }) => ({ from: to, to: from, kind })),
    ),
  ])
  const blocksAt = new Map(design.positions.map(({ designator, blocks }) => [designator, blocks.filter((block) => seen.has(block))]))
  const held = states.flatMap(({ unit, fittings, readings }) => {
    const firstAt = readings.find(({ checkKey }) => checkKey === check.key)?.at ?? 0
    return fittings
      .filter(
        ({ designator, at, outAt }) => (blocksAt.get(designator)?.length ?? 0) > 0 && at <= firstAt && (outAt === null || outAt >= firstAt),
      )
      .map(({ designator, batchId }) => ({ tag: unit.tag, designator, batchId }))
  })
  const codes = new Map(batchesById(sight, [...new Set(held.map(({ batchId }) => batchId))]).map(({ id, code }) => [id, code]))
  return [...groupBy(held, ({ batchId }) => batchId)].map(([batchId, rows]) => {
    const designators = [...new Set(rows.map(({ designator }) => designator))]
    const blocks = [...new Set(designators.flatMap((one) => blocksAt.get(one) ?? []))]
    return {
      factor: 'batch',
      name: codes.get(batchId) ?? '',
      where: `at ${collapseDesignators(designators)}, in ${blocks.join(', ')}`,
      tags: [...new Set(rows.map(({ tag }) => tag))],
    }
  })
}

/** Per batch what the run knows of it: by the first check that fails on this unit and on another of its run. */
export function batchesInRun(sight: Sight, unit: UnitState, failing: readonly string[]): Map<string, BatchInRun & { check: string }> {
  if (failing.length === 0) return new Map()
  const { runId, tag } = unit.unit
  const states = listRoster(sight)
    .filter((one) => one.runId === runId)
    .map((one) => (one.tag === tag ? unit : stateOf(sight, one)))
  const failures = failuresOf(
    states.flatMap(({ unit: { tag }, readings }) =>
      readings.map(({ seq, checkKey, verdict, correction }) => ({ tag, seq, check: checkKey, verdict, correction })),
    ),
  )
  const key = failing.find((one) => (failures.get(one)?.length ?? 0) > 1)
  const check = unit.design.checks.find((one) => one.key === key)
  if (!check) return new Map()
  const taken = states.filter(({ readings }) => readings.some(({ checkKey }) => checkKey === check.key))
  const failed = new Set(failures.get(check.key))
  const count = (tags: readonly string[], isFailed: boolean) => tags.filter((one) => failed.has(one) === isFailed).length
  return new Map(
    sharedBatches(sight, check, taken).map(({ name, tags }) => {
      const without = taken.map((one) => one.unit.tag).filter((one) => !tags.includes(one))
      const counts = {
        failedWith: count(tags, true),
        passedWith: count(tags, false),
        failedWithout: count(without, true),
        passedWithout: count(without, false),
      }
      return [name, { ...counts, check: check.key }]
    }),
  )
}
