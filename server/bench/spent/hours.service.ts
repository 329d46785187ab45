import type { z } from 'zod'
import { groupBy } from '#kernel/group'
import { medianOf } from '#kernel/spread'
import { type Actor, once, type Sight, type Turn } from '#runtime/queue/turn'
import { getUnit } from '../units/unit-state.service'
import { minutesOf, type Stretch, stretchesOf } from './sessions.rules'
import type { correctTimeIn, Week, weekIn } from './spent.contract'
import * as store from './spent.store'

/** How hours are counted until somebody says otherwise. Common practice. */
const UNSAID: Week = { pauseMinutes: 30, leadMinutes: 5, weeklyMinutes: null, at: null, by: null }

export function weekOf(sight: Sight): Week {
  const found = store.findWeek(sight.db)
  if (!found) return UNSAID
  const { pauseMinutes, leadMinutes, weeklyMinutes, at } = found.row
  return { pauseMinutes, leadMinutes, weeklyMinutes, at, by: found.by }
}

/** Says how hours are counted from now on, those of before too, and how many a week has. What was said before is kept. */
export function setWeek(turn: Turn, actor: Actor, { pause, lead, weekly }: z.output<typeof weekIn>): void {
  const said = { pauseMinutes: pause, leadMinutes: lead, weeklyMinutes: weekly }
  store.insertWeek(turn.db, { id: turn.dice.id(), ...said, at: turn.now, byPersonId: actor.personId })
  turn.record({ kind: 'bench.week-set', subject: 'bench', body: said })
}

export interface UnitHours {
  stretches: Stretch[]
  measuredMinutes: number
  /** With corrections, and never below nought. */
  minutes: number
}

/** The hours of every machine on which anything was done or corrected. A person's sessions go across machines, so all are counted at once. */
export function hoursByUnit(sight: Sight): Map<string, UnitHours> {
  const from = store.spentFrom(sight.db)
  const stretches = groupBy(stretchesOf(from.stamps.all(), weekOf(sight)), ({ unitId }) => unitId)
  const corrected = new Map(from.corrected.all().map(({ unitId, minutes }) => [unitId, minutes]))
  return new Map(
    [...new Set([...stretches.keys(), ...corrected.keys()])].map((unitId) => {
      const own = stretches.get(unitId) ?? []
      const measuredMinutes = minutesOf(own)
      return [unitId, { stretches: own, measuredMinutes, minutes: Math.max(0, measuredMinutes + (corrected.get(unitId) ?? 0)) }]
    }),
  )
}

export interface UnitPast {
  unitId: string
  tag: string
  designKey: string
  isFinished: boolean
  minutes: number
  soakHours: number
}

/** What was worked on each machine, and what finished ones of a design took, in the middle, by the design's key. */
export function pastPace(sight: Sight): { units: UnitPast[]; took: Map<string, number> } {
  const hours = hoursByUnit(sight)
  const units = store
    .spentFrom(sight.db)
    .units.all()
    .map(({ unitId, tag, designKey, isFinished, soakHours }) => {
      return { unitId, tag, designKey, isFinished: isFinished === 1, minutes: hours.get(unitId)?.minutes ?? 0, soakHours }
    })
  const done = groupBy(
    units.filter(({ isFinished, minutes }) => isFinished && minutes > 0),
    ({ designKey }) => designKey,
  )
  const medians = [...done].map(([key, own]) => [key, medianOf(own.map(({ minutes }) => minutes)) ?? 0] as const)
  return { units, took: new Map(medians) }
}

/** Adds time that left no note, or takes away what was noted without work; what was said stands with who and why. */
export function correctTime(turn: Turn, actor: Actor, { key, ...input }: z.output<typeof correctTimeIn>): { tag: string } {
  return once(turn, key, { correctTime: input }, () => {
    const { id: unitId, tag } = getUnit(turn, input.tag)
    const minutes = input.way === 'more' ? input.time : -input.time
    const { reason } = input
    store.insertCorrection(turn.db, { id: turn.dice.id(), unitId, minutes, reason, at: turn.now, byPersonId: actor.personId })
    turn.record({ kind: 'unit.time-corrected', subject: `unit:${tag}`, body: { unitId, tag, minutes, reason } })
    return { tag }
  })
}
