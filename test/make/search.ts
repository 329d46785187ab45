import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Check, Feed } from '#bench/designs/design.contract'
import { readImport } from '#bench/designs/import.rules'
import { type Catches, type CommonCatch, catchesOf } from '#bench/faults/catch.rules'
import { rankChecks } from '#bench/faults/rank.rules'
import { type Seen, type Suspicion, update } from '#bench/faults/suspects.rules'
import { powerGates } from '#bench/units/permitted.rules'
import { isCloseOut } from '#bench/units/undo.rules'
import { check } from '#test/bench/units/make'

export interface Machine {
  key: string
  blocks: string[]
  /** Without soak and close-out, which are never used to search. */
  checks: Check[]
  catches: Catches
}

export const DEMO_MACHINES = ['saltmarsh-sr3', 'copperbeech-v1', 'tidemill-lc6', 'samphire-fc8']

const DIR = join(import.meta.dirname, '../../seed/designs')

/** One of the demo's machines. `seenOnly` leaves out blocks that only soak and close-out would find. */
export function readMachine(key: string, common: CommonCatch, { seenOnly = true } = {}): Machine {
  const read = (list: string) => readFileSync(join(DIR, `${key}-${list}.csv`))
  const { draft } = readImport({ checklist: read('checklist'), partsList: read('parts'), feeds: read('feeds') })
  return machine(key, draft, common, seenOnly)
}

/** Blocks in a row, each feeding the next, a check of a minute on each. */
export function chainOf(length: number, common: CommonCatch): Machine {
  const blocks = Array.from({ length }, (_, index) => `block ${index + 1}`)
  const feeds = blocks.slice(1).map((to, index): Feed => ({ from: blocks[index] ?? '', to, kind: 'signal' }))
  const checks = blocks.map((block, index) => check(`C${index + 1}`, index + 1, { exercises: [block] }))
  return machine(`chain of ${length}`, { blocks, feeds, checks }, common, true)
}

function machine(
  key: string,
  { blocks, feeds, checks }: { blocks: readonly string[]; feeds: readonly Feed[]; checks: readonly Check[] },
  common: CommonCatch,
  seenOnly: boolean,
): Machine {
  const usable = checks.filter((one) => one.kind !== 'soak' && !isCloseOut(one))
  const catches = catchesOf({ checks: usable, feeds, blocks, fitted: new Set(blocks) }, common)
  const isSeen = (block: string) => [...catches.values()].some((row) => row.has(block))
  return { key, blocks: blocks.filter((block) => !seenOnly || isSeen(block)), checks: usable, catches }
}

export interface Search {
  checks: string[]
  minutes: number
  /** Who is most suspected at the end, and how much. */
  found: string
  share: number
  /** Suspects that are left and cannot be told apart by anything that may still be taken. */
  left: string[]
}

export interface SearchPlan {
  machine: Machine
  /** Does this check fail? */
  fails(key: string): boolean
  /** The next check to take of those left; null to give up. */
  pick(state: SearchState): string | null
  /** Enough when one block has this share of the suspicion. */
  enough: number
  /** What was seen before the search, in order. */
  before?: Seen[]
  /** Whether power waits for cold checks and rails; else those are taken to be done. */
  safety?: boolean
}

export interface SearchState {
  machine: Machine
  suspicions: Suspicion[]
  seen: Set<string>
  open: Set<string>
}

/** Walks through one search, check by check, until it is enough or nothing more can be told. */
export function walk({ machine, fails, pick, enough, before = [], safety = false }: SearchPlan): Search {
  const prior = machine.blocks.map((block) => ({ blocks: [block], weight: 1 / machine.blocks.length }))
  const state: SearchState = {
    machine,
    suspicions: update(prior, before, machine.catches) ?? prior,
    seen: new Set(before.map((one) => one.check)),
    open: new Set(safety ? before.filter((one) => !one.failed).map((one) => one.check) : machine.checks.map(({ key }) => key)),
  }
  const taken: string[] = []
  let minutes = 0
  while (!isEnough(state, enough)) {
    const key = pick(state)
    if (key === null) break
    const failed = fails(key)
    taken.push(key)
    minutes += machine.checks.find((one) => one.key === key)?.minutes ?? 0
    state.seen.add(key)
    if (!failed) state.open.add(key)
    state.suspicions = update(state.suspicions, [{ check: key, failed }], machine.catches) ?? state.suspicions
  }
  const [top] = [...state.suspicions].sort((a, b) => b.weight - a.weight)
  const left = state.suspicions.filter(({ weight }) => weight > 1e-12).map(({ blocks }) => blocks[0] ?? '')
  return { checks: taken, minutes, found: top?.blocks[0] ?? '', share: top?.weight ?? 0, left }
}

function isEnough({ suspicions, machine }: SearchState, enough: number): boolean {
  if (suspicions.some(({ weight }) => weight >= enough - 1e-9)) return true
  const left = suspicions.filter(({ weight }) => weight > 1e-12).map(({ blocks }) => blocks[0] ?? '')
  return machine.checks.every(({ key }) => new Set(left.map((block) => machine.catches.get(key)?.get(block) ?? 0)).size <= 1)
}

export const ranked = ({ machine, suspicions, seen, open }: SearchState): string | null => {
  const [best] = rankChecks({ checks: machine.checks, suspicions, catches: machine.catches, seen, open, bars: new Map() })
  return best?.is === 'tells' ? best.check : null
}

/** In the order given, whatever it may tell, as far as safety lets. */
export const inOrder =
  (keys: readonly string[]) =>
  ({ machine, seen, open }: SearchState): string | null =>
    keys.find((key) => {
      const found = machine.checks.find((one) => one.key === key)
      return found && !seen.has(key) && powerGates(found, machine.checks).every((gate) => open.has(gate.key))
    }) ?? null

/** A fixed sequence of chances for each seed (mulberry32), so that a run can be had again. */
export function chances(seed: number): () => number {
  let state = seed
  return () => {
    state = (state + 0x6d2b79f5) | 0
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state)
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32
  }
}

export function shuffled<T>(list: readonly T[], chance: () => number): T[] {
  return list
    .map((one) => ({ one, at: chance() }))
    .sort((a, b) => a.at - b.at)
    .map(({ one }) => one)
}

/** The least minutes that any search could take, summed over all single faults, by trying everything; only for certain catches. */
export function leastMinutes({ blocks, checks, catches }: Machine): number {
  const masks = checks.map(({ key, minutes }) => ({
    minutes,
    mask: blocks.reduce((mask, block, index) => mask | ((catches.get(key)?.get(block) ?? 0) > 0 ? 1 << index : 0), 0),
  }))
  const known = new Map<number, number>()
  return from((1 << blocks.length) - 1)

  function from(left: number): number {
    const before = known.get(left)
    if (before !== undefined) return before
    let best = Number.POSITIVE_INFINITY
    for (const { minutes, mask } of masks) {
      const [inside, outside] = [left & mask, left & ~mask]
      if (inside === 0 || outside === 0) continue
      best = Math.min(best, minutes * countOf(left) + from(inside) + from(outside))
    }
    const answer = Number.isFinite(best) ? best : 0
    known.set(left, answer)
    return answer
  }
}

const countOf = (bits: number) => [...bits.toString(2)].filter((bit) => bit === '1').length
