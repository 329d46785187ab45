import { Refusal } from '#kernel/refusal'
import type { Sight } from '#runtime/queue/turn'
import type { Check } from '../designs/design.contract'
import { getDesign, type WholeDesign } from '../designs/designs.service'
import * as store from './bench.store'
import { type RecordedChange, type Standing, standingOf, type TakenReading } from './current.rules'
import type { Bench } from './permitted.rules'
import { findUnitByTag } from './roster.service'
import { readTag, wrongUnit } from './tag.rules'
import { undoneBy } from './undo.rules'
import { findRunRow, type UnitRow } from './units.store'

/** Everything that was ever entered of one unit. */
interface Entered {
  unit: UnitRow
  design: WholeDesign
  readings: store.ReadingRow[]
  reworks: store.ReworkRow[]
  releases: store.ReleaseRow[]
  moves: store.MoveRow[]
  /** Reworks and moves to another revision, in order, as they bear on readings. */
  changes: RecordedChange[]
  fittings: store.FittingRow[]
}

/** The place of the last thing that happened to a unit, in the order in which its readings and reworks stand. */
export const lastEntryOf = (sight: Sight, unitId: string): number => store.nextSeq(sight.db, unitId) - 1

/** Everything that is known of one unit, and what follows from it. */
export interface UnitState extends Entered {
  /** What sits in each position now. */
  fitted: Map<string, store.FittingRow>
  standing: Standing
  bench: Bench
}

export function getUnit(sight: Sight, typed: string): UnitRow {
  const row = findUnitByTag(sight, readTag(typed) ?? typed)
  if (!row) throw Refusal.at('tag', `There is no unit ${typed.slice(0, 20)}. Write its tag, such as TERN-03.`, 'not-found')
  return row
}

/** The unit that a command names, once the tag that the person sees on the machine was found to be the same. */
export function unitInHand(sight: Sight, { tag, seen }: { tag: string; seen: string }): UnitState {
  const state = loadUnit(sight, tag)
  const words = wrongUnit(seen, state.unit.tag)
  if (words) throw Refusal.at('seen', words, 'conflict')
  return state
}

export function loadUnit(sight: Sight, tag: string): UnitState {
  return stateOf(sight, getUnit(sight, tag))
}

export function stateOf(sight: Sight, unit: UnitRow): UnitState {
  const reworks = store.reworksOf(sight.db, unit.id)
  const moves = store.movesOf(sight.db, unit.id)
  return whatFollows({
    unit,
    design: designOf(sight, unit),
    readings: store.readingsOf(sight.db, unit.id),
    reworks,
    releases: store.releasesOf(sight.db, unit.id),
    moves,
    changes: changesOf(sight, reworks, moves),
    fittings: store.fittingsOf(sight.db, unit.id),
  })
}

/** The revision by which a unit is built. */
export const designOf = (sight: Sight, { designId, runId }: UnitRow): WholeDesign =>
  getDesign(sight, designId ?? findRunRow(sight.db, runId)?.designId ?? '')

/** The unit once this reading was taken, without loading it again. */
export const withReading = (state: UnitState, reading: store.ReadingRow): UnitState =>
  whatFollows({ ...state, readings: [...state.readings, reading] })

/** The unit once this hold point was released, without loading it again. */
export const withRelease = (state: UnitState, release: store.ReleaseRow): UnitState =>
  whatFollows({ ...state, releases: [...state.releases, release] })

function whatFollows({ unit, design, readings, reworks, releases, moves, changes, fittings }: Entered): UnitState {
  const fitted = new Map(fittings.filter(({ outAt }) => outAt === null).map((row) => [row.designator, row]))
  const standing = standingOf(design.checks, design.feeds, {
    readings: readings.map(takenOf),
    changes,
    releases: releases.map(({ checkKey, seq, name }) => ({ check: checkKey, seq, name })),
  })
  const { checks, feeds, positions } = design
  const bench: Bench = { checks, feeds, positions, states: standing.states, fitted: new Set(fitted.keys()), setAside: unit.setAsideReason }
  return { unit, design, readings, reworks, releases, moves, changes, fittings, fitted, standing, bench }
}

export const takenOf = ({ id, seq, checkKey, verdict, correction, whileSearching }: store.ReadingRow): TakenReading => ({
  id,
  seq,
  check: checkKey,
  verdict,
  correction,
  isWhileSearching: whileSearching,
})

/** A rework undid what it undid by the blocks of the revision in force then, whatever a later one says. */
function changesOf(sight: Sight, reworks: readonly store.ReworkRow[], moves: readonly store.MoveRow[]): RecordedChange[] {
  const changes = reworks.map((row): RecordedChange => {
    const change = changeOf(row)
    const move = moves.find(({ seq }) => seq > row.seq)
    if (!move) return change
    const { checks, feeds } = getDesign(sight, move.fromDesignId)
    return { ...change, undone: new Map(undoneBy(change, checks, feeds).map(({ check, why }) => [check, why])) }
  })
  const moved = moves.map(({ id, seq, toDesignId, retakes }): RecordedChange => {
    const words = `Revision ${getDesign(sight, toDesignId).revision}`
    return { id, seq, blocks: [], iron: false, words, undone: new Map(Object.entries(retakes)) }
  })
  return [...changes, ...moved].sort((a, b) => a.seq - b.seq)
}

export const changeOf = ({ id, seq, blocks, iron, changed }: store.ReworkRow): RecordedChange => ({ id, seq, blocks, iron, words: changed })

export function checkOf({ design }: UnitState, key: string): Check {
  const found = design.checks.find((check) => check.key === key)
  if (!found) throw Refusal.at('check', `${design.name} has no check ${key}.`, 'not-found')
  return found
}

/** Blocks that the positions belong to, each once. */
export function blocksOf({ design }: UnitState, designators: readonly string[]): string[] {
  return [...new Set(design.positions.filter(({ designator }) => designators.includes(designator)).flatMap(({ blocks }) => blocks))]
}
