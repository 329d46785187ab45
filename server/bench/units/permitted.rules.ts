import { downstreamOf, needsOf } from '../designs/blocks.rules'
import type { Check, Feed, Position } from '../designs/design.contract'
import { type CheckState, hasPassed, isDone } from './current.rules'

export type Permission =
  | { check: string; may: 'take'; why: string }
  | { check: string; may: 'release'; why: string }
  | { check: string; may: 'done'; why: string }
  | { check: string; may: 'wait'; why: string; waitsFor: string[] }

export interface Bench {
  checks: readonly Check[]
  feeds: readonly Feed[]
  positions: readonly Position[]
  states: ReadonlyMap<string, CheckState>
  /** Designators that hold something now. */
  fitted: ReadonlySet<string>
  setAside: string | null
}

/** For every check of the list, in order: may it be taken now, and if not, why not. */
export function permissions(bench: Bench): Permission[] {
  return bench.checks.map((check) => permissionFor(check, bench))
}

/** The one thing to do next: a hold to release before a check to take; null when nothing is left or everything waits. */
export function nextPermitted(bench: Bench): Permission | null {
  const all = permissions(bench)
  return all.find((one) => one.may === 'release') ?? all.find((one) => one.may === 'take') ?? null
}

/** Positions that must hold something before this check can tell anything, and do not yet. */
export function emptyBefore(check: Check, bench: Bench): string[] {
  const needs = needsOf(check.key, bench.checks)
  return bench.positions
    .filter((position) => !bench.fitted.has(position.designator))
    .filter((position) => {
      if (position.fittedAfter === null) return true
      if (!needs.has(position.fittedAfter)) return false
      const reached = downstreamOf(position.blocks, bench.feeds)
      return check.exercises.some((block) => position.blocks.includes(block) || reached.has(block))
    })
    .map((position) => position.designator)
}

function permissionFor(check: Check, bench: Bench): Permission {
  const state = bench.states.get(check.key)
  if (hasPassed(state)) {
    if (isDone(check, state)) return { check: check.key, may: 'done', why: '' }
    return { check: check.key, may: 'release', why: 'A hold point: a named person must release it before the work goes on.' }
  }
  const wait = whyWait(check, bench)
  return wait ? { check: check.key, may: 'wait', ...wait } : { check: check.key, may: 'take', why: '' }
}

/** Why this check cannot be taken now, or taken again; null when it can. */
export function whyWait(check: Check, bench: Bench): { why: string; waitsFor: string[] } | null {
  if (bench.setAside !== null) return { why: `Set aside: ${bench.setAside}`, waitsFor: [] }
  const needs = check.after.filter((key) => !hasPassed(bench.states.get(key)))
  if (needs.length > 0) return { why: `Needs ${needs.join(', ')} passed first.`, waitsFor: needs }
  const hold = bench.checks.find((one) => one.isHold && one.seq < check.seq && !isDone(one, bench.states.get(one.key)))
  if (hold) {
    const passed = hasPassed(bench.states.get(hold.key))
    return { why: `Hold point ${hold.key} ${passed ? 'is not released' : 'has not passed'}.`, waitsFor: [hold.key] }
  }
  const lost = check.isPowered ? bench.checks.filter((one) => isColdGate(one) && isLost(one, bench)).map((one) => one.key) : []
  if (lost.length > 0) {
    return { why: `No power while a cold check is lost: take ${lost.join(', ')} again first.`, waitsFor: lost }
  }
  const empty = emptyBefore(check, bench)
  return empty.length > 0 ? { why: `Still empty: ${shortList(empty)}. Fit them first.`, waitsFor: [] } : null
}

/**
 * Why this check cannot be taken even to find a fault; null when it can. Only safety binds then: no power while a cold
 * check above it has no pass, nor past a measured hold point that is not done. A reading taken while searching opens neither.
 */
export function whyWaitSearching(check: Check, bench: Bench): { why: string; waitsFor: string[] } | null {
  if (bench.setAside !== null) return { why: `Set aside: ${bench.setAside}`, waitsFor: [] }
  const gates = powerGates(check, bench.checks)
  const cold = gates.filter((one) => isColdGate(one) && !hasPassed(bench.states.get(one.key))).map(({ key }) => key)
  if (cold.length > 0) return { why: `No power while a cold check has no pass that stands: ${cold.join(', ')}.`, waitsFor: cold }
  const hold = gates.find((one) => !isDone(one, bench.states.get(one.key)))
  if (hold) {
    const passed = hasPassed(bench.states.get(hold.key))
    return {
      why: `Hold point ${hold.key} ${passed ? 'is not released' : 'has not passed'}, and power waits for it.`,
      waitsFor: [hold.key],
    }
  }
  const empty = emptyBefore(check, bench)
  return empty.length > 0 ? { why: `Still empty: ${shortList(empty)}. Fit them first.`, waitsFor: [] } : null
}

/**
 * What must be done before power goes on for this check, as the checklist says: usually the cold checks above it, and the
 * hold points of which a meter decides (the rails). Holds of programs, soak and close-out guard no power.
 */
export const powerGates = (check: Check, checks: readonly Check[]): Check[] =>
  check.isPowered ? checks.filter((one) => one.seq < check.seq && one.gatesPower) : []

/** What is taken without power before there may be any. */
const isColdGate = (check: Check) => check.gatesPower && !check.isPowered

/** A change spoilt it and nothing was taken since, or what was taken since did not pass: what was known cold is not known now. */
function isLost(check: Check, bench: Bench): boolean {
  const state = bench.states.get(check.key)
  return !hasPassed(state) && (state?.lost != null || state?.verdict != null)
}

export function shortList(names: readonly string[], most = 6): string {
  if (names.length <= most) return names.join(', ')
  return `${names.slice(0, most).join(', ')} and ${names.length - most} more`
}
