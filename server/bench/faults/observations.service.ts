import type { z } from 'zod'
import { Refusal } from '#kernel/refusal'
import { findPerson } from '#people/people/people.service'
import { type Actor, once, type Sight, type Turn } from '#runtime/queue/turn'
import { loadUnit, type UnitState } from '../units/unit-state.service'
import type { ObservationView, observeIn, Point, pointIn } from './fault.contract'
import * as store from './faults.store'
import { type Observed, stillTrue } from './observations.rules'

/** Keeps what somebody saw at a point while a fault is searched. */
export function observe(turn: Turn, actor: Actor, input: z.output<typeof observeIn>): { tag: string } {
  return once(turn, input.key, { observe: input }, () => {
    const { unit, design } = loadUnit(turn, input.tag)
    if (!store.findOpenRow(turn.db, unit.id))
      throw Refusal.at('found', `No fault of ${unit.tag} is open. Open one first, with what it does or does not do.`, 'conflict')
    const { place, found, isGood, isPowered } = input
    const block = blockAt(design, place, input.block)
    store.insertObservation(turn.db, {
      id: turn.dice.id(),
      unitId: unit.id,
      at: turn.now,
      byPersonId: actor.personId,
      place,
      block,
      found,
      isGood,
      isPowered,
    })
    turn.record({
      kind: 'unit.observed',
      subject: `unit:${unit.tag}`,
      body: { unitId: unit.id, tag: unit.tag, place, block, found, isGood },
    })
    return { tag: unit.tag }
  })
}

/** The block that was named, or that of the position or the test point which the place begins with: "U2 pin 1" is where U2 is. */
function blockAt(design: UnitState['design'], place: string, named: string): string {
  if (named !== '') {
    if (!design.blocks.includes(named)) throw Refusal.at('block', `There is no block "${named}". Choose one of the design's.`)
    return named
  }
  const first = place.toUpperCase().split(/[\s.,:]/)[0] ?? ''
  const position = design.positions.find(({ designator }) => designator === first)
  const feed = design.feeds.find(({ point }) => point?.toUpperCase() === place.toUpperCase())
  const only = position?.blocks.length === 1 ? position.blocks[0] : feed?.from
  if (only === undefined) throw Refusal.at('block', 'Choose the block that the place belongs to.')
  return only
}

/** Writes down what is to be seen at a point of a design; the same point again with something else replaces it. */
export function setPoint(turn: Turn, actor: Actor, input: z.output<typeof pointIn>): { tag: string } {
  const { unit, design } = loadUnit(turn, input.tag)
  const block = blockAt(design, input.point, input.block)
  const { point, expects } = input
  store.putPoint(turn.db, { designKey: design.key, point, block, expects, at: turn.now, byPersonId: actor.personId })
  turn.record({ kind: 'design.point-set', subject: `unit:${unit.tag}`, body: { designKey: design.key, point, block, expects } })
  return { tag: unit.tag }
}

/** Where a design can be probed and what is to be seen there: as it was imported, and above that as it was written at the bench. */
export function pointsOf(sight: Sight, { key, feeds }: Pick<UnitState['design'], 'key' | 'feeds'>): Point[] {
  const imported = feeds.flatMap(({ from, point, expects }) => (point && expects ? [{ point, block: from, expects }] : []))
  const written = store.pointsOf(sight.db, key).map(({ point, block, expects }) => ({ point, block, expects }))
  return [...new Map([...imported, ...written].map((one) => [one.point, one])).values()]
}

/** What was seen of a unit since a fault was opened, the latest first, and what of it still counts. */
export function observedOf(
  sight: Sight,
  { unit, design, reworks }: UnitState,
  openedAt: number,
): { all: ObservationView[]; counts: Observed[] } {
  const rows = store.observationsOf(sight.db, unit.id).filter(({ at }) => at >= openedAt)
  const counts = stillTrue(
    rows,
    reworks.filter(({ isLateFitting }) => !isLateFitting),
    design.feeds,
  )
  const all = rows.map(({ id, at, byPersonId, place, block, found, isGood }) => ({
    ...{ id, at, place, block, found, isGood },
    by: findPerson(sight, byPersonId)?.name ?? '',
    counts: counts.some((one) => one.id === id),
  }))
  return { all: all.reverse(), counts }
}
