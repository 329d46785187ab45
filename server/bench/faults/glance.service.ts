import { groupBy } from '#kernel/group'
import { Refusal } from '#kernel/refusal'
import { findPerson } from '#people/people/people.service'
import type { Sight } from '#runtime/queue/turn'
import { limitWords } from '../designs/check-words.rules'
import type { Check } from '../designs/design.contract'
import { readEntry } from '../units/entry.rules'
import { listRoster } from '../units/roster.service'
import { stateOf, type UnitState } from '../units/unit-state.service'
import { listRuns } from '../units/units.service'
import { isPass } from '../units/verdict.rules'
import { rankCauses, type Shared } from './common-cause.rules'
import * as store from './faults.store'
import { openFaultTitle } from './found.service'
import type { Cell, CellState, CommonFailure, GlanceCheck, GlanceView, PlottedReading } from './glance.contract'
import { failuresOf } from './shared.rules'
import { sharedBatches } from './shared-batches.service'
import { spreadOf } from './spread.rules'

/** A run at a glance: units across, checks down; what failed twice and what those have in common; who stands apart. */
export function glanceView(sight: Sight, prefix: string): GlanceView {
  const run = listRuns(sight).find(({ tagPrefix }) => tagPrefix === prefix)
  if (!run)
    throw Refusal.at('prefix', `There is no run ${prefix.slice(0, 8)}. Its units would be called ${prefix.slice(0, 8)}-01.`, 'not-found')
  const states = listRoster(sight)
    .filter(({ runId }) => runId === run.id)
    .map((unit) => stateOf(sight, unit))
  const first = states[0]
  const checks = first?.design.checks ?? []
  const failures = failuresOf(
    states.flatMap(({ unit, readings }) =>
      readings.map(({ seq, checkKey, verdict, correction }) => ({ tag: unit.tag, seq, check: checkKey, verdict, correction })),
    ),
  )
  const faults = states.map(({ unit }) => ({ tag: unit.tag, rows: store.faultsOf(sight.db, unit.id) }))
  return {
    prefix,
    design: { id: run.designId, name: run.design, revision: run.revision },
    units: states.map((state) => ({
      tag: state.unit.tag,
      fault: openFaultTitle(sight, state),
      setAside: state.unit.setAsideAt !== null,
    })),
    checks: checks.map((check) => glanceCheck(check, states, failures.get(check.key) ?? [])),
    common: checks.flatMap((check) => commonFailure(sight, check, states, failures.get(check.key) ?? [])),
    closed: faults.flatMap(({ tag, rows }) =>
      rows.flatMap(({ closedAt, symptom, block, changed, minutes }) =>
        closedAt === null ? [] : [{ tag, symptom, block, changed: changed ?? '', minutes: minutes ?? 0 }],
      ),
    ),
  }
}

function glanceCheck(check: Check, states: readonly UnitState[], failed: readonly string[]): GlanceCheck {
  const { key, title, stage, kind, unit, nominal, lower, upper, decimals } = check
  const standing = states.flatMap((state) => currentReading(state, key) ?? [])
  const readings = kind === 'measure' || kind === 'count' ? standing.filter(({ row }) => !row.whileSearching) : []
  const spread = spreadOf(
    readings.map(({ tag, row }) => ({ tag, value: row.value, doubt: row.expandedUncertainty, step: stepOfEntry(row.entry, check.unit) })),
  )
  return {
    ...{ key, title, stage, kind, unit, nominal, lower, upper, decimals },
    limits: limitWords(check),
    cells: states.map((state) => cellOf(state, key, failed)),
    readings: readings.map(
      ({ tag, row }): PlottedReading => ({
        tag,
        value: row.value,
        entry: row.entry,
        verdict: row.verdict,
        doubt: row.expandedUncertainty,
        isApart: spread?.apart.some((one) => one.tag === tag) ?? false,
      }),
    ),
    spread,
  }
}

/** One step of the last digit of a reading as it is kept; of a mean, that of the mean. */
function stepOfEntry(entry: string, unit: string): number | null {
  const read = readEntry(entry.split(', ')[0] ?? '', unit)
  return read.ok ? read.entry.resolution : null
}

function currentReading({ unit, standing, readings }: UnitState, key: string) {
  const current = standing.states.get(key)?.current
  const row = current == null ? undefined : readings.find(({ id }) => id === current)
  return row ? { tag: unit.tag, row } : null
}

function cellOf(state: UnitState, key: string, failed: readonly string[]): Cell {
  const { tag } = state.unit
  const at = state.standing.states.get(key)
  const row = currentReading(state, key)?.row
  const is: CellState = row ? (row.whileSearching && isPass(row.verdict) ? 'searching' : row.verdict) : at?.lost ? 'lost' : 'none'
  return { tag, state: is, entry: row?.entry ?? '', hasFailed: failed.includes(tag) }
}

/** A check that failed on two units or more, with what those have in common and others have not. */
function commonFailure(sight: Sight, check: Check, states: readonly UnitState[], failed: readonly string[]): CommonFailure[] {
  if (failed.length < 2) return []
  const taken = states.filter(({ readings }) => readings.some(({ checkKey }) => checkKey === check.key))
  const tags = taken.map(({ unit }) => unit.tag)
  const shared = [...sharedBatches(sight, check, taken), ...sharedHands(sight, check, taken)]
  const compared = shared.filter((one) => one.tags.length > 1 && one.tags.length < tags.length).length
  return [
    {
      check: check.key,
      title: check.title,
      failed: [...failed],
      taken: tags.length,
      causes: rankCauses(tags, failed, shared).slice(0, 8),
      compared,
    },
  ]
}

/** Who soldered what the check looks at, on which day, and what it was read with. */
function sharedHands(sight: Sight, check: Check, states: readonly UnitState[]): Shared[] {
  const own = new Set(
    states[0]?.design.positions
      .filter(({ blocks }) => blocks.some((block) => check.exercises.includes(block)))
      .map(({ designator }) => designator),
  )
  const rows = states.flatMap(({ unit, fittings, readings }) => {
    const { tag } = unit
    const first = readings.find(({ checkKey }) => checkKey === check.key)
    const soldered = fittings.filter(
      ({ designator, iron, kind, at }) => own.has(designator) && iron && kind !== 'correction' && at <= (first?.at ?? 0),
    )
    return [
      ...soldered.map(({ byPersonId }) => ({ tag, factor: 'builder' as const, id: byPersonId })),
      ...soldered.map(({ at }) => ({ tag, factor: 'step' as const, id: new Date(at).toISOString().slice(0, 10) })),
      ...(first?.instrumentWords ? [{ tag, factor: 'instrument' as const, id: first.instrumentWords }] : []),
    ]
  })
  return [...groupBy(rows, ({ factor, id }) => `${factor} ${id}`).values()].flatMap((group) => {
    const one = group[0]
    if (!one) return []
    const name = one.factor === 'builder' ? (findPerson(sight, one.id)?.name ?? '') : one.id
    const where = {
      builder: `soldered ${check.exercises.join(', ')}`,
      step: `the day on which ${check.exercises.join(', ')} was soldered`,
      instrument: 'read it',
    }
    return [{ factor: one.factor, name, where: where[one.factor], tags: [...new Set(group.map(({ tag }) => tag))] }]
  })
}
