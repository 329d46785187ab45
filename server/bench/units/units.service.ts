import type { z } from 'zod'
import { Refusal } from '#kernel/refusal'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { getDesign } from '../designs/designs.service'
import { unitTag } from './tag.rules'
import { getUnit } from './unit-state.service'
import type { runIn, setAsideIn, unitsIn } from './units.contract'
import * as store from './units.store'

export interface Made {
  runId: string
  tags: string[]
}

/** A run of a design with its first units, tags numbered from 01. A prefix belongs to one run. */
export function makeRun(turn: Turn, _actor: Actor, { designId, tagPrefix, count }: z.output<typeof runIn>): Made {
  const design = getDesign(turn, designId)
  if (store.findRunByPrefix(turn.db, tagPrefix)) {
    throw Refusal.at(
      'tagPrefix',
      `Tags that begin with ${tagPrefix} are already in use. Choose other letters, or add units to that run.`,
      'conflict',
    )
  }
  const run = { id: turn.dice.id(), designId, tagPrefix, at: turn.now }
  store.insertRun(turn.db, run)
  turn.record({ kind: 'run.made', subject: `run:${tagPrefix}`, body: { runId: run.id, designId, design: design.name } })
  return addTo(turn, run, count)
}

export function makeUnits(turn: Turn, _actor: Actor, { runId, count }: z.output<typeof unitsIn>): Made {
  const run = store.findRunRow(turn.db, runId)
  if (!run) throw Refusal.at('runId', 'There is no such run.', 'not-found')
  return addTo(turn, run, count)
}

function addTo(turn: Turn, run: store.RunRow, count: number): Made {
  const first = store.lastNumberIn(turn.db, run.id) + 1
  if (first + count > 1000) throw Refusal.at('count', 'A run has at most 999 units. Begin another run.')
  const tags = Array.from({ length: count }, (_, index) => {
    const number = first + index
    const tag = unitTag(run.tagPrefix, number)
    store.insertUnit(turn.db, {
      id: turn.dice.id(),
      tag,
      runId: run.id,
      number,
      at: turn.now,
      setAsideAt: null,
      setAsideReason: null,
      designId: null,
    })
    turn.record({ kind: 'unit.begun', subject: `unit:${tag}`, body: { tag } })
    return tag
  })
  return { runId: run.id, tags }
}

export const listRuns = (sight: Sight) =>
  store.allRunRows(sight.db).map((run) => {
    const { name, revision } = getDesign(sight, run.designId)
    return { ...run, design: name, revision }
  })

export function setAsideUnit(turn: Turn, _actor: Actor, { tag, reason }: z.output<typeof setAsideIn>): store.UnitRow {
  const unit = getUnit(turn, tag)
  setAside(turn, unit, reason)
  return getUnit(turn, tag)
}

/**
 * Sets aside every unit that holds something of a batch now; those that were set aside before keep their
 * first reason. Gives all of them, so that certificates can be withdrawn and lots be held.
 */
export function setAsideUnitsHolding(turn: Turn, batchId: string, reason: string): store.UnitRow[] {
  const units = store.unitsHolding(turn.db, [batchId])
  for (const unit of units) setAside(turn, unit, reason)
  return units
}

function setAside(turn: Turn, unit: store.UnitRow, reason: string): void {
  if (unit.setAsideAt !== null) return
  store.setAsideRow(turn.db, unit.id, turn.now, reason)
  turn.record({ kind: 'unit.set-aside', subject: `unit:${unit.tag}`, body: { unitId: unit.id, tag: unit.tag, reason } })
}

/** Lets a unit go on that was set aside. The caller has seen to it that nothing stands against it any more. */
export function takeUpUnit(turn: Turn, tag: string): store.UnitRow {
  const unit = getUnit(turn, tag)
  if (unit.setAsideAt === null) throw Refusal.at('tag', `${unit.tag} is not set aside.`, 'conflict')
  store.setAsideRow(turn.db, unit.id, null, null)
  turn.record({ kind: 'unit.taken-up', subject: `unit:${unit.tag}`, body: { unitId: unit.id, tag: unit.tag } })
  return getUnit(turn, tag)
}
