import type { z } from 'zod'
import { Refusal } from '#kernel/refusal'
import { type Actor, once, type Sight, type Turn } from '#runtime/queue/turn'
import { getDesign, revisionsOf, type WholeDesign } from '../designs/designs.service'
import * as store from './bench.store'
import { type RevisionMeans, whatItMeans } from './revision.rules'
import { listRoster } from './roster.service'
import { getUnit, stateOf, takenOf, type UnitState } from './unit-state.service'
import type { moveIn } from './units.contract'
import { setDesignRow } from './units.store'

export interface UnitAtRevision extends RevisionMeans {
  tag: string
  from: string
  /** Why it cannot go on by this revision as it stands; null when it can. */
  stops: string | null
}

export interface Moved {
  unitId: string
  tag: string
  revision: string
  /** Readings that stood and stand no longer. */
  undone: string[]
}

/** Every unit that is built to another revision of this design, and what going on by this one would mean for it. */
export function unitsAtOtherRevisions(sight: Sight, designId: string): UnitAtRevision[] {
  const design = getDesign(sight, designId)
  const others = new Set(revisionsOf(sight, design.key).flatMap(({ id }) => (id === designId ? [] : [id])))
  return listRoster(sight).flatMap((row) => {
    const state = stateOf(sight, row)
    return others.has(state.design.id) ? [meansFor(state, design)] : []
  })
}

/** Lets a unit go on by another revision of its design. What was recorded stays as it was; what must be retaken is lost. */
export function moveToRevision(turn: Turn, actor: Actor, input: z.output<typeof moveIn>): Moved {
  return once(turn, input.key, { move: input }, () => {
    const state = stateOf(turn, getUnit(turn, input.tag))
    const design = getDesign(turn, input.designId)
    const { unit } = state
    if (design.key !== state.design.key)
      throw Refusal.at('designId', `${unit.tag} is a ${state.design.name}. Choose a revision of that.`, 'conflict')
    if (design.id === state.design.id) throw Refusal.at('designId', `${unit.tag} is at revision ${design.revision} already.`, 'conflict')
    const means = meansFor(state, design)
    if (means.stops !== null) throw Refusal.at('tag', means.stops, 'conflict')
    const chosen = means.carries
      .filter(({ check }) => input.alsoRetake.includes(check))
      .map((one) => ({ ...one, why: 'to be taken anew, as was chosen' }))
    const retakes = Object.fromEntries([...means.retakes, ...means.ends, ...chosen].map(({ check, why }) => [check, why]))
    store.insertMove(turn.db, {
      id: turn.dice.id(),
      unitId: unit.id,
      seq: store.nextSeq(turn.db, unit.id),
      at: turn.now,
      byPersonId: actor.personId,
      fromDesignId: state.design.id,
      toDesignId: design.id,
      retakes,
    })
    setDesignRow(turn.db, unit.id, design.id)
    const undone = Object.keys(retakes)
    const body = { unitId: unit.id, tag: unit.tag, from: state.design.revision, to: design.revision, undone }
    turn.record({ kind: 'unit.moved-to-revision', subject: `unit:${unit.tag}`, body })
    return { unitId: unit.id, tag: unit.tag, revision: design.revision, undone }
  })
}

function meansFor(state: UnitState, design: WholeDesign): UnitAtRevision {
  const { standing, readings, changes } = state
  const current = readings.filter(({ id, checkKey }) => standing.states.get(checkKey)?.current === id)
  return {
    tag: state.unit.tag,
    from: state.design.revision,
    stops: whatStops(state, design),
    ...whatItMeans(state.design, design, current.map(takenOf), changes),
  }
}

/** What sits in a position that the new revision has no more, or has for another part, comes out first. */
function whatStops({ design, fitted }: UnitState, after: WholeDesign): string | null {
  const wrong = [...fitted.keys()].filter((designator) => {
    const partAt = ({ positions }: WholeDesign) => positions.find((one) => one.designator === designator)?.partId
    return partAt(after) !== partAt(design)
  })
  if (wrong.length === 0) return null
  return `${wrong.join(', ')} hold what revision ${after.revision} does not have there. Enter a rework that takes it out, then move the unit.`
}
