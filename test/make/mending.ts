import { asTaken } from '#bench/faults/catch.rules'
import { forWhatFails } from '#bench/faults/likeness.rules'
import { afterMends } from '#bench/faults/mended.rules'
import { type Seen, suspect } from '#bench/faults/suspects.rules'
import { chances, type Machine } from './search'

export interface Mending {
  isMended: boolean
  mends: number
  /** The same wrong block was named to the end. */
  isStuck: boolean
}

const MOST_MENDS = 12

/**
 * Mends a machine as its page says: everything is read, the top suspect is changed, everything is read again, until nothing
 * fails. What each fault does to each check is drawn once, by the catch, as a hard fault behaves; `slips` of the passes are
 * misread as failures, and a fault that comes and goes shows in `shows` of the readings.
 */
export function mend(machine: Machine, faulty: readonly string[], seed: number, { slips = 0, shows = 1 } = {}): Mending {
  const chance = chances(seed)
  const caught = new Map(
    faulty.map((block) => [block, new Set(machine.checks.filter(({ key }) => chance() < at(machine, key, block)).map(({ key }) => key))]),
  )
  const left = new Set(faulty)
  const prior = new Map(machine.blocks.map((block) => [block, 1 / machine.blocks.length]))
  const catches = asTaken(machine.catches)
  const times = new Map<string, number>()
  const named: string[] = []
  while (named.length < MOST_MENDS) {
    const seen = machine.checks.map(
      ({ key }): Seen => ({
        check: key,
        failed: [...left].some((block) => caught.get(block)?.has(key) && chance() < shows) || chance() < slips,
      }),
    )
    if (seen.every(({ failed }) => !failed)) break
    const failed = seen.filter((one) => one.failed).map(({ check }) => check)
    const top = firstOf(suspect(afterMends(prior, times), seen, forWhatFails(catches, machine.checks, failed)).shares)
    named.push(top)
    left.delete(top)
    times.set(top, (times.get(top) ?? 0) + 1)
  }
  const last = named.slice(-4)
  const isStuck = named.length === MOST_MENDS && new Set(last).size === 1
  // A fault that no check shows is no part of the question.
  const shown = [...left].filter((block) => (caught.get(block)?.size ?? 0) > 0)
  return { isMended: shown.length === 0, mends: named.length, isStuck }
}

/** Whether one failure that means nothing clears the guilty block: its share, and its place among the suspects. */
export function slipped(machine: Machine, guilty: string, seed: number): { share: number; place: number } | null {
  const chance = chances(seed)
  const seen = machine.checks.map(({ key }): Seen => ({ check: key, failed: chance() < at(machine, key, guilty) }))
  const passes = seen.filter(({ failed }) => !failed)
  const slip = passes[Math.floor(chance() * passes.length)]
  if (!slip || seen.every(({ failed }) => !failed)) return null
  const told = seen.map((one) => (one === slip ? { ...one, failed: true } : one))
  const prior = new Map(machine.blocks.map((block) => [block, 1 / machine.blocks.length]))
  const failed = told.filter((one) => one.failed).map(({ check }) => check)
  const { shares } = suspect(prior, told, forWhatFails(asTaken(machine.catches), machine.checks, failed))
  const order = [...shares].sort((a, b) => b[1] - a[1]).map(([block]) => block)
  return { share: shares.get(guilty) ?? 0, place: order.indexOf(guilty) + 1 }
}

const at = ({ catches }: Machine, check: string, block: string): number => catches.get(check)?.get(block) ?? 0

const firstOf = (shares: ReadonlyMap<string, number>): string => [...shares].sort((a, b) => b[1] - a[1])[0]?.[0] ?? ''
