import { invariant } from '#kernel/invariant'
import { findPerson } from '#people/people/people.service'
import type { Sight } from '#runtime/queue/turn'
import { batchesById } from '#stock/shelf/batch.service'
import { countsAsGood } from '#stock/shelf/piece.rules'
import { batchCards } from '#stock/shelf/stock.service'
import { limitWords } from '../designs/check-words.rules'
import { placementOf } from '../designs/placement.service'
import { hasPassed, isDone } from '../units/current.rules'
import { whyWait, whyWaitSearching } from '../units/permitted.rules'
import { runReadings } from '../units/run-readings.service'
import { loadUnit, takenOf, type UnitState } from '../units/unit-state.service'
import { listRuns } from '../units/units.service'
import { isPass } from '../units/verdict.rules'
import { boardPhotographs } from './board.service'
import { asTaken, type Catches, catchesOf, withCatches } from './catch.rules'
import { allSeen, failedIn, seenIn } from './evidence.rules'
import type { FaultCard, Look, ObservationView, Outcome, Point, SearchView, SharedFailure, Suspect } from './fault.contract'
import { wasChanged } from './faults.service'
import * as store from './faults.store'
import { standsNow } from './found.service'
import { type ClosedFault, minutesFor, sharpened, taughtCatches } from './learn.rules'
import { forWhatFails } from './likeness.rules'
import { afterMends, mendedInVain } from './mended.rules'
import { asEvidence } from './observations.rules'
import { observedOf, pointsOf } from './observations.service'
import { FIGURES_FROM } from './odds.rules'
import { afterPasses } from './passes.rules'
import { type IronFacts, type PieceFacts, priorOf } from './prior.rules'
import { type Ranked, REPEAT_OF_FAILURE, REPEAT_OF_PASS, rankChecks } from './rank.rules'
import { sayEvidence } from './say.rules'
import { sharedFailures } from './shared.rules'
import { batchesInRun } from './shared-batches.service'
import { type Posterior, suspect, update } from './suspects.rules'
import { faultTitle, mayBeSlip } from './title.rules'

/** Everything that is known of a unit's fault: who is suspected, why, and which check to make next. */
export function searchView(sight: Sight, tag: string): SearchView {
  const state = loadUnit(sight, tag)
  const { unit, design, standing } = state
  const rows = store.faultsOf(sight.db, unit.id)
  const open = rows.find(({ closedAt }) => closedAt === null) ?? null
  const closed = closedFaults(sight, design.key)
  const stands = seenIn(standing.states, design.checks)
  const { shares, reasons, pieces } = priorFor(sight, state, open?.openedAt ?? sight.now)
  const now = standsNow(state)
  const read = allSeen(state.readings.map(takenOf), standing.superseded, design.checks)
  const observed = observedOf(sight, state, open?.openedAt ?? sight.now)
  const prior = afterMends(sharpened(shares, closed), open ? inVain(state, open.openedAt) : new Map())
  const failed = read.filter((one) => one.failed).map(({ check }) => check)
  const usual = forWhatFails(catchesFor(sight, state, closed), design.checks, failed)
  const evident = asEvidence(observed.counts, design.feeds, usual)
  const { catches } = evident
  const seen = [...read, ...evident.seen]
  const posterior = suspect(prior, seen, catches)
  const titles = new Map(design.checks.map(({ key, title }) => [key, title]))
  return {
    tag: unit.tag,
    runPrefix: listRuns(sight).find(({ id }) => id === unit.runId)?.tagPrefix ?? '',
    design: { id: design.id, name: design.name, revision: design.revision },
    setAside: unit.setAsideReason,
    blocks: design.blocks,
    feeds: design.feeds,
    open: open && cardOf(sight, open),
    title: open ? faultTitle(open, now) : '',
    passesNow: open?.checkKey != null && now.every(({ verdict }) => isPass(verdict)),
    mayBeSlip: open !== null && mayBeSlip(open, now, wasChanged(state, open.openedAt)),
    change: open && changeSince(state, open.openedAt),
    earlier: rows.filter(({ closedAt }) => closedAt !== null).map((row) => cardOf(sight, row)),
    faults: posterior.faults,
    says: sayEvidence(posterior, read, stands),
    observations: observed.all,
    suspects: suspectsOf(posterior, prior, reasons, closed),
    inside: insideOf(state, posterior, pieces, pointsOf(sight, design), observed.all),
    board: placementOf(sight, design.key),
    photographs: boardPhotographs(sight, design.key).filter(({ pins }) => pins.length > 0),
    pairs: posterior.suspicions
      .filter(({ blocks, weight }) => blocks.length === 2 && weight >= 0.005)
      .sort((a, b) => b.weight - a.weight)
      .slice(0, 5)
      .map(({ blocks, weight }) => ({ blocks, share: weight })),
    hasFigures: closed.length >= FIGURES_FROM,
    looks: open ? looksOf(state, posterior, afterPasses(catches, seen)) : [],
    seen: stands.map(({ check, failed }) => {
      const current = standing.states.get(check)?.current
      const row = state.readings.find(({ id }) => id === current)
      return { check, title: titles.get(check) ?? '', entry: row?.entry ?? '', failed, isWhileSearching: row?.whileSearching ?? false }
    }),
    shared: sharedOf(sight, state),
  }
}

const MOST_INSIDE = 8

/** What to look at when no check tells more: the pieces of the most suspected block, by what is known of each. */
function insideOf(
  { design }: UnitState,
  { shares }: Posterior,
  pieces: ReturnType<typeof priorOf>['pieces'],
  points: readonly Point[],
  observed: readonly Pick<ObservationView, 'place' | 'counts'>[],
): SearchView['inside'] {
  const [block = ''] = [...shares].sort((a, b) => b[1] - a[1])[0] ?? []
  const parts = new Map(design.lines.flatMap(({ designators, part }) => designators.map((one) => [one, part.words])))
  const own = pieces.filter(({ blocks }) => blocks.includes(block)).sort((a, b) => b.weight - a.weight)
  const here = points.filter((one) => one.block === block)
  return {
    block,
    pieces: own.slice(0, MOST_INSIDE).map(({ designator, isJoint, batch, history }) => ({
      designator,
      part: parts.get(designator) ?? '',
      why: isJoint ? 'its joint before the part' : 'the part before its joint',
      batch,
      history,
    })),
    points: here,
    nextPoint:
      here.find(({ point }) => !observed.some(({ place, counts }) => counts && place.toUpperCase() === point.toUpperCase()))?.point ?? null,
  }
}

/** Blocks that were changed since the fault was opened, and something has failed since. */
const inVain = ({ reworks, readings }: UnitState, openedAt: number): Map<string, number> =>
  mendedInVain(
    reworks.filter(({ at, isLateFitting }) => at >= openedAt && !isLateFitting),
    readings.filter(({ verdict }) => !isPass(verdict)).map(({ seq }) => seq),
  )

function changeSince({ reworks }: UnitState, openedAt: number): SearchView['change'] {
  const last = reworks.filter(({ at, isLateFitting }) => at >= openedAt && !isLateFitting).at(-1)
  return last ? { changed: last.changed, blocks: last.blocks, designators: last.designators, at: last.at } : null
}

/** Checks of the unit's run that failed on several units, this one among them. */
function sharedOf(sight: Sight, { unit, design }: Pick<UnitState, 'unit' | 'design'>): SharedFailure[] {
  const titles = new Map(design.checks.map(({ key, title }) => [key, title]))
  return sharedFailures(runReadings(sight, unit.runId))
    .filter(({ tags }) => tags.includes(unit.tag))
    .map((one) => ({ ...one, title: titles.get(one.check) ?? '' }))
}

/** What the bench screen says of faults: the symptom that is being searched, and what failed on other units as well. */
export function faultAtBench(
  sight: Sight,
  state: UnitState,
): { fault: string | null; faultPasses: boolean; mayBeSlip: boolean; shared: SharedFailure[] } {
  const open = store.findOpenRow(sight.db, state.unit.id) ?? null
  const now = standsNow(state)
  return {
    fault: open && faultTitle(open, now),
    faultPasses: open?.checkKey != null && now.every(({ verdict }) => isPass(verdict)),
    mayBeSlip: open !== null && mayBeSlip(open, now, wasChanged(state, open.openedAt)),
    shared: sharedOf(sight, state),
  }
}

function looksOf(state: UnitState, { suspicions }: Posterior, catches: Catches): Look[] {
  const { bench, standing, design } = state
  const done = design.checks.filter((check) => {
    const at = standing.states.get(check.key)
    return check.isHold ? isDone(check, at) : hasPassed(at)
  })
  const open = new Set(done.map(({ key }) => key))
  const seen = new Set([...standing.states.values()].flatMap(({ check, current }) => (current === null ? [] : check)))
  const standingOf = (isWanted: boolean, share: number) =>
    [...standing.states.values()].flatMap(({ check, current, verdict }) =>
      current === null || verdict === null || isPass(verdict) !== isWanted ? [] : [[check, share] as const],
    )
  const failures = standingOf(false, REPEAT_OF_FAILURE)
  const passes = standingOf(true, REPEAT_OF_PASS)
  // What waits only for its gates is weighed with them; anything else bars it.
  const bars = new Map(
    design.checks.flatMap((check): [string, string][] => {
      const bar = whyWaitSearching(check, { ...bench, states: allOpen(bench.states) })
      return bar ? [[check.key, bar.why]] : []
    }),
  )
  const rankedWith = (again: typeof failures) =>
    rankChecks({ checks: design.checks, suspicions, catches, seen, again: new Map(again), open, bars })
  // A pass is repeated only where nothing else tells any more: then a fault that comes and goes may still show.
  const once = rankedWith(failures)
  const ranks = once.some(({ is }) => is === 'tells') ? once : rankedWith([...failures, ...passes])
  return ranks.map((ranked) => {
    const check = design.checks.find(({ key }) => key === ranked.check)
    invariant(check, 'a ranked check is one of the design')
    const { title, stage, isPowered, caution } = check
    const words = ranked.is === 'waits' ? (whyWaitSearching(check, bench)?.why ?? ranked.why) : ranked.why
    const outcome = (failed: boolean): Outcome => outcomeOf(ranked, failed, suspicions, catches)
    const isMarked = whyWait(check, bench) !== null
    return {
      ...ranked,
      title,
      stage,
      isPowered,
      caution,
      limits: limitWords(check),
      why: words,
      isMarked,
      failing: outcome(true),
      passing: outcome(false),
    }
  })
}

/** As if every check had passed and been let go: what still bars a check then is not a matter of power. */
const allOpen = (states: UnitState['bench']['states']): UnitState['bench']['states'] =>
  new Map([...states].map(([key, state]) => [key, { ...state, verdict: 'pass', isWhileSearching: false, releasedBy: 'anyone' }]))

function outcomeOf({ check, fails }: Ranked, failed: boolean, suspicions: Posterior['suspicions'], catches: Catches): Outcome {
  const after = new Map<string, number>()
  for (const { blocks, weight } of update(suspicions, [{ check, failed }], catches) ?? [])
    for (const block of blocks) after.set(block, (after.get(block) ?? 0) + weight)
  const suspects = [...after].map(([block, share]) => ({ block, share })).sort((a, b) => b.share - a.share)
  return { chance: failed ? fails : 1 - fails, suspects: suspects.filter(({ share }) => share >= 0.01).slice(0, 3) }
}

function suspectsOf(
  { shares }: Posterior,
  prior: ReadonlyMap<string, number>,
  reasons: Map<string, string[]>,
  closed: ClosedFault[],
): Suspect[] {
  return [...prior]
    .map(([block, before]) => ({
      block,
      share: shares.get(block) ?? 0,
      prior: before,
      reasons: reasons.get(block) ?? [],
      minutes: Math.round(minutesFor(block, closed)),
      closedHere: closed.filter((one) => one.block === block).length,
    }))
    .sort((a, b) => b.share - a.share)
}

function catchesFor(sight: Sight, { design, fitted }: UnitState, closed: readonly ClosedFault[]): Catches {
  const empty = new Set(design.positions.filter(({ designator }) => !fitted.has(designator)).flatMap(({ blocks }) => blocks))
  const { checks, feeds, blocks } = design
  const usual = catchesOf({ checks, feeds, blocks, fitted: new Set(blocks.filter((block) => !empty.has(block))) })
  const set = store.catchRowsOf(sight.db, design.id).map(({ checkKey, block, share }) => ({ check: checkKey, block, share }))
  // What a person set stands above what closed faults have taught.
  return asTaken(withCatches(withCatches(usual, taughtCatches(usual, closed)), set))
}

const closedFaults = (sight: Sight, designKey: string): ClosedFault[] =>
  store
    .closedOf(sight.db, designKey)
    .flatMap(({ block, minutes, seen }) => (block === null ? [] : [{ block, minutes: minutes ?? 0, seen }]))

function priorFor(sight: Sight, state: UnitState, foundAt: number): ReturnType<typeof priorOf> {
  const { design, fitted, reworks } = state
  const inRun = batchesInRun(sight, state, failedIn(state.standing.states))
  const ids = [...new Set([...fitted.values()].map(({ batchId }) => batchId))]
  const cards = new Map(batchCards(sight, batchesById(sight, ids)).map((card) => [card.id, card]))
  const kinds = store.kindRecord(sight.db)
  const pieces = design.positions.flatMap(({ designator, blocks }): PieceFacts[] => {
    const row = fitted.get(designator)
    const card = cards.get(row?.batchId ?? '')
    if (!row || !card) return []
    const refused = card.loose.filter(({ verdict }) => verdict !== 'not inspected' && !countsAsGood(verdict, card.part.programmed)).length
    const batch = { code: card.code, bad: card.bad + refused, fitted: card.fitted, isSuspect: card.state === 'quarantined' }
    return [
      {
        designator,
        blocks,
        kind: card.part.kind,
        isSoldered: row.iron,
        at: row.at,
        batch,
        inRun: inRun.get(card.code),
        ofKind: kinds.get(card.part.kind),
      },
    ]
  })
  const irons: IronFacts[] = reworks.filter(({ iron }) => iron).map(({ blocks, at }) => ({ blocks, at }))
  return priorOf({ blocks: design.blocks, pieces, irons, foundAt })
}

function cardOf(sight: Sight, row: store.FaultRow): FaultCard {
  const { id, checkKey, symptom, openedAt, closedAt, cause, block, designator, changed, minutes } = row
  return {
    id,
    check: checkKey,
    symptom,
    openedAt,
    by: findPerson(sight, row.openedByPersonId)?.name ?? '',
    closed:
      closedAt === null ? null : { at: closedAt, cause: cause ?? 'none', block, designator, changed: changed ?? '', minutes: minutes ?? 0 },
  }
}
