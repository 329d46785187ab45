import type { z } from 'zod'
import { groupBy } from '#kernel/group'
import { getCampaign } from '#people/campaign/campaign.service'
import { findPerson } from '#people/people/people.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { partsById } from '#stock/catalogue/part.service'
import { type FittedCount, sumParts } from '#stock/shelf/price.rules'
import { replacementPrices } from '#stock/shelf/price.service'
import { getUnit } from '../units/unit-state.service'
import { hoursByUnit, pastPace, weekOf } from './hours.service'
import { minutesOf } from './sessions.rules'
import type { MachineSpent, ShownSpent, SpentPage, showSpentIn } from './spent.contract'
import * as store from './spent.store'

// What went into each machine: hours at the bench, and parts at what they would cost to buy again, given and bought apart.

/** Every machine with its hours and parts, what finished ones of a design took, and what has no price yet. */
export function spentPage(sight: Sight): SpentPage {
  const from = store.spentFrom(sight.db)
  const hours = hoursByUnit(sight)
  const prices = replacementPrices(sight)
  const fitted = groupBy(from.fitted.all().map(asCount), ({ unitId }) => unitId)
  const machines = from.units.all().map(({ unitId, tag, designKey, designName, isFinished }) => {
    const { givenMinor, boughtMinor, unpriced } = sumParts(fitted.get(unitId) ?? [], prices)
    const minutes = hours.get(unitId)?.minutes ?? 0
    return { tag, designKey, designName, isFinished: isFinished === 1, minutes, givenMinor, boughtMinor, unpriced }
  })
  const { took } = pastPace(sight)
  const designs = [...groupBy(machines, ({ designKey }) => designKey)].map(([key, own]) => {
    const finished = own.filter(({ isFinished, minutes }) => isFinished && minutes > 0).length
    return { key, name: own[0]?.designName ?? '', finished, medianMinutes: took.get(key) ?? null }
  })
  return {
    machines: machines.filter(({ minutes, givenMinor, boughtMinor, unpriced }) => minutes + givenMinor + boughtMinor + unpriced > 0),
    designs,
    week: weekOf(sight),
    unpriced: unpricedParts(sight, [...fitted.values()].flat(), prices),
    currency: getCampaign(sight).currency,
  }
}

const asCount = ({ isGift, ...row }: store.FittedRow): FittedCount & { unitId: string } => ({ ...row, isGift: isGift === 1 })

function unpricedParts(sight: Sight, fitted: readonly FittedCount[], { ofBatch, ofPart }: ReturnType<typeof replacementPrices>) {
  const pieces = new Map<string, number>()
  for (const { partId, batchId, count } of fitted)
    if (!ofBatch.has(batchId) && !ofPart.has(partId)) pieces.set(partId, (pieces.get(partId) ?? 0) + count)
  const parts = partsById(sight, [...pieces.keys()])
  return [...pieces]
    .map(([partId, count]) => ({ partId, words: parts.get(partId)?.words ?? '', pieces: count }))
    .sort((a, b) => b.pieces - a.pieces || a.words.localeCompare(b.words, 'en'))
}

/** One machine: who worked on it when, what was corrected, and its parts line by line. */
export function machineSpent(sight: Sight, tagTyped: string): MachineSpent {
  const unit = getUnit(sight, tagTyped)
  const from = store.spentFrom(sight.db)
  const { stretches, measuredMinutes, minutes } = hoursByUnit(sight).get(unit.id) ?? { stretches: [], measuredMinutes: 0, minutes: 0 }
  const names = new Map(
    [...new Set(stretches.map(({ personId }) => personId))].map((id) => [id, findPerson(sight, id)?.name ?? 'Somebody']),
  )
  const named = (personId: string) => names.get(personId) ?? 'Somebody'
  const people = [...groupBy(stretches, ({ personId }) => personId)].map(([personId, own]) => ({
    name: named(personId),
    minutes: minutesOf(own),
  }))
  const { lines, ...sums } = partsIn(sight, unit.id)
  const parts = partsById(
    sight,
    lines.map(({ partId }) => partId),
  )
  const { currency, zone } = getCampaign(sight)
  const shown = store.findShown(sight.db, unit.id)
  return {
    tag: unit.tag,
    designName: from.units.all().find(({ unitId }) => unitId === unit.id)?.designName ?? '',
    ...{ zone, currency, week: weekOf(sight), measuredMinutes, minutes },
    stretches: stretches.map(({ personId, from, to }) => ({ by: named(personId), from, to })),
    people: people.sort((a, b) => b.minutes - a.minutes),
    corrections: store.correctionsOf(sight.db, unit.id),
    lines: lines
      .map((line) => ({ ...line, words: parts.get(line.partId)?.words ?? '' }))
      .sort((a, b) => (b.minor ?? -1) - (a.minor ?? -1) || a.words.localeCompare(b.words, 'en')),
    ...sums,
    takenOut: from.takenOut.get(unit.id) ?? 0,
    shows: { hours: shown?.hours ?? false, parts: shown?.parts ?? false },
  }
}

function partsIn(sight: Sight, unitId: string) {
  const fitted = store.spentFrom(sight.db).fitted.all().map(asCount)
  return sumParts(
    fitted.filter((row) => row.unitId === unitId),
    replacementPrices(sight),
  )
}

/** What of it everybody may read beside the machine's record from now on. */
export function showSpent(turn: Turn, actor: Actor, { tag, hours, parts }: z.output<typeof showSpentIn>): void {
  const unit = getUnit(turn, tag)
  store.saveShown(turn.db, { unitId: unit.id, hours, parts, at: turn.now, byPersonId: actor.personId })
  turn.record({ kind: 'unit.spent-shown', subject: `unit:${unit.tag}`, body: { unitId: unit.id, tag: unit.tag, hours, parts } })
}

/** What was chosen to be read by everybody; null where nothing was. */
export function shownSpent(sight: Sight, unitId: string): ShownSpent | null {
  const chosen = store.findShown(sight.db, unitId)
  if (!chosen?.hours && !chosen?.parts) return null
  const sums = chosen.parts ? partsIn(sight, unitId) : null
  return {
    minutes: chosen.hours ? (hoursByUnit(sight).get(unitId)?.minutes ?? 0) : null,
    parts: sums && { minor: sums.givenMinor + sums.boughtMinor, unpriced: sums.unpriced, currency: getCampaign(sight).currency },
  }
}
