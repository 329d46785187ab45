import type { Check } from '../designs/design.contract'
import { powerGates } from '../units/permitted.rules'
import { isCloseOut } from '../units/undo.rules'
import type { Catches } from './catch.rules'
import { type Split, splitOf } from './information.rules'
import { type Suspicion, update } from './suspects.rules'

/** To get at a check at all: fetch the probe, find the place. Common practice, no source; without it many tiny checks win. */
export const MINUTES_TO_REACH = 1

/** What a second reading tells beside the first: of a failure, whether it was a slip; of a pass little. Common practice, no source. */
export const REPEAT_OF_FAILURE = 0.5
export const REPEAT_OF_PASS = 0.1

/** Less than this is nothing: what is left of rounding. */
const NOTHING = 1e-6

/** Bits below which a check is not worth its minutes, though it is not quite blind. */
const NEXT_TO_NOTHING = 0.01

export interface RankFacts {
  checks: readonly Check[]
  suspicions: readonly Suspicion[]
  catches: Catches
  /** Checks of which a reading stands. */
  seen: ReadonlySet<string>
  /** Of those, what may be taken once more, and how much a repeat tells beside a first reading. */
  again?: ReadonlyMap<string, number>
  /** Cold checks and rail holds that are done: power may go past them. */
  open: ReadonlySet<string>
  /** Checks that cannot be made now for another reason, with the reason: empty positions, a hold that waits for its name. */
  bars: ReadonlyMap<string, string>
}

export interface Ranked extends Split {
  check: string
  minutes: number
  /** Bits a minute, of the check or of the way that it opens. */
  rate: number
  /** `tells`: may be taken and tells something. `waits`: would, and something must come first. `nothing`: tells nothing. */
  is: 'tells' | 'waits' | 'nothing'
  /** Why it waits, or tells nothing. */
  why: string
  /** The check worth taking that this one opens the way to. */
  opens: string | null
  /** It was taken already: a fault that comes and goes, or a reading that slipped, shows in a second one. */
  isRepeat: boolean
}

/**
 * Checks not yet made, by the information that a minute on them is expected to bring, what tells nothing last. A check
 * that must come first for safety counts with what it opens: bits and minutes of the whole way, as far as it would be walked.
 */
export function rankChecks(facts: RankFacts): Ranked[] {
  const left = facts.checks.filter(({ key }) => !facts.seen.has(key) || facts.again?.has(key)).map((check) => judged(check, facts))
  const ranked = new Map(left.map((one) => [one.check, one]))
  for (const { check, is } of left) {
    const plan = is === 'waits' ? planTo(check, ranked, facts) : null
    const first = plan && ranked.get(plan.first)
    if (plan && first && plan.rate > first.rate) ranked.set(first.check, { ...first, is: 'tells', rate: plan.rate, why: '', opens: check })
  }
  const place = { tells: 0, waits: 1, nothing: 2 }
  // The list is in the order of the checklist, and sorting keeps it where two are equal.
  return [...ranked.values()].sort((a, b) => place[a.is] - place[b.is] || b.rate - a.rate || a.minutes - b.minutes)
}

function judged(check: Check, facts: RankFacts): Ranked {
  const split = splitOf(check.key, facts.suspicions, facts.catches)
  const isRepeat = facts.seen.has(check.key)
  const share = isRepeat ? (facts.again?.get(check.key) ?? 0) : 1
  const rate = (share * split.bits) / (check.minutes + MINUTES_TO_REACH)
  const answer = { check: check.key, minutes: check.minutes, ...split, rate, opens: null, isRepeat }
  const nothing = whyNothing(check, split)
  if (nothing !== null) return { ...answer, rate: 0, is: 'nothing', why: nothing }
  const bar = facts.bars.get(check.key)
  if (bar !== undefined) return { ...answer, is: 'waits', why: bar }
  const shut = shutGates(check, facts)
  if (shut.length > 0) return { ...answer, is: 'waits', why: `No power before ${shut.map(({ key }) => key).join(', ')}.` }
  return { ...answer, is: 'tells', why: '' }
}

function whyNothing(check: Check, { fails, bits }: Split): string | null {
  if (check.kind === 'soak') return 'A soak shows that there is a fault, not where.'
  if (isCloseOut(check)) return 'It closes the record and measures nothing.'
  if (bits > NEXT_TO_NOTHING) return null
  if (fails < NOTHING) return 'It would pass whichever of the suspects it is.'
  if (fails > 1 - NOTHING) return 'It would fail whichever of the suspects it is.'
  return 'It looks the same for all that are left.'
}

const shutGates = (check: Check, { checks, open }: RankFacts) => powerGates(check, checks).filter(({ key }) => !open.has(key))

/** The way to a check over what must pass first: how many bits a minute it is expected to bring, as far as it would be walked. */
function planTo(key: string, ranked: ReadonlyMap<string, Ranked>, facts: RankFacts): { first: string; rate: number } | null {
  const goal = facts.checks.find((one) => one.key === key)
  const gates = goal ? shutGates(goal, facts) : []
  const first = gates[0]
  if (!goal || !first || facts.bars.has(key)) return null
  // A gate that was taken and is not open has failed or waits for something else: it cannot be opened by taking it.
  if (gates.some((gate) => facts.seen.has(gate.key) || !ranked.has(gate.key) || facts.bars.has(gate.key))) return null
  let suspicions: readonly Suspicion[] = facts.suspicions
  let walks = 1
  let bits = 0
  let minutes = 0
  for (const step of [...gates, goal]) {
    const split = splitOf(step.key, suspicions, facts.catches)
    bits += walks * split.bits
    minutes += walks * (step.minutes + MINUTES_TO_REACH)
    walks *= 1 - split.fails
    suspicions = update(suspicions, [{ check: step.key, failed: false }], facts.catches) ?? suspicions
  }
  return { first: first.key, rate: bits / minutes }
}
