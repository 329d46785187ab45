import type { UnitNeeds } from '#bench/buildable/build.contract'
import { type UnitOutlook, whatCanBeBuilt } from '#bench/buildable/buildable.rules'
import { unitNeeds } from '#bench/buildable/needs.service'
import { currentCertificate } from '#bench/certificates/standing.service'
import { sharedFailures } from '#bench/faults/shared.rules'
import { reachedBy } from '#bench/units/progress.rules'
import { listRoster } from '#bench/units/roster.service'
import { type SoakClock, soakClock } from '#bench/units/soak.rules'
import { runningSoak } from '#bench/units/soak.service'
import { stateOf, type UnitState } from '#bench/units/unit-state.service'
import { listRuns } from '#bench/units/units.service'
import { groupBy } from '#kernel/group'
import { isSent } from '#money/sending/sent.service'
import type { Sight } from '#runtime/queue/turn'
import { findLotOfUnit } from '#sale/lots/lots.service'
import { comesTo } from '#sale/price/result.rules'
import { partsById } from '#stock/catalogue/part.service'
import { listDonors } from '#stock/donors/donor.service'
import { outstandingPromises } from '#stock/donors/gift.service'
import { stockNow } from '#stock/shelf/stock.service'
import type { RackRun, RackUnit } from './rack.contract'
import { type LotFacts, nextThing, type Promised, type RackFacts, sayLack, takePromised } from './rack.rules'

/** The staff's first page: every unit, run by run, how far it has come and what comes next for it. */
export function readRack(sight: Sight): RackRun[] {
  const needs = unitNeeds(sight)
  const outlooks = outlooksNow(sight, needs)
  const lacks = lacksInWords(sight, [...outlooks.values()], needs)
  const units = groupBy(listRoster(sight), ({ runId }) => runId)
  return listRuns(sight).map(({ id, designId, design, tagPrefix }) => {
    const states = (units.get(id) ?? []).map((row) => stateOf(sight, row))
    const shared = new Map(sharedIn(states).map(({ check, tags }) => [check, tags]))
    const hung = states.map((state) => rackUnit(sight, state, outlooks.get(state.unit.id), lacks.get(state.unit.id) ?? [], shared))
    return { runId: id, designId, design, prefix: tagPrefix, shared: [...shared.keys()], units: hung }
  })
}

const sharedIn = (states: readonly UnitState[]) =>
  sharedFailures(
    states.flatMap(({ unit, readings }) =>
      readings.map(({ seq, checkKey, verdict, correction }) => ({ tag: unit.tag, seq, check: checkKey, verdict, correction })),
    ),
  )

/** How many terminals the wire of a unit has reached. One that is built lacks nothing, so the shelf need not be looked through. */
export function progressOf(sight: Sight, state: UnitState): number {
  const isBuilt = state.bench.fitted.size === state.bench.positions.length
  return reachedOf(sight, state, isBuilt ? undefined : outlooksNow(sight).get(state.unit.id))
}

const outlooksNow = (sight: Sight, needs = unitNeeds(sight)) =>
  new Map(whatCanBeBuilt(needs, stockNow(sight)).map((one) => [one.unitId, one]))

/** What each unit lacks, in words. A promise is told to one unit only, in the order in which units get their parts. */
function lacksInWords(sight: Sight, outlooks: readonly UnitOutlook[], needs: readonly UnitNeeds[]): Map<string, string[]> {
  const parts = partsById(sight, [...new Set(outlooks.flatMap(({ lacks }) => lacks.map(({ partId }) => partId)))])
  const designs = new Map(needs.map(({ unitId, designId }) => [unitId, designId]))
  const names = new Map(listDonors(sight).map(({ id, name }) => [id, name]))
  const lines = outstandingPromises(sight).map(({ state, donorId, ...line }) => ({
    ...line,
    donorName: names.get(donorId) ?? '',
    isOnItsWay: state === 'on its way',
  }))
  const promises: Map<string | null, Promised[]> = groupBy(lines, ({ partId }) => partId)
  return new Map(
    outlooks.map(({ unitId, lacks }) => {
      const words = lacks.map(({ partId, quantity }) => {
        const unit = { unitId, designId: designs.get(unitId) ?? '' }
        const { taken, rest } = takePromised(promises.get(partId) ?? [], unit, quantity)
        promises.set(partId, rest)
        return sayLack(quantity, parts.get(partId)?.words ?? '', taken)
      })
      return [unitId, words]
    }),
  )
}

function rackUnit(
  sight: Sight,
  state: UnitState,
  outlook: UnitOutlook | undefined,
  lacks: string[],
  shared: RackFacts['shared'],
): RackUnit {
  const { unit, bench } = state
  const found = findLotOfUnit(sight, unit.id)
  const lot: LotFacts | null = found && {
    number: found.number,
    state: found.fixedPrice?.is === 'sold' ? 'sold' : found.state,
    closesAt: found.closesAt,
    standingMinor: found.standingMinor,
    bids: found.bids,
    currency: found.currency,
  }
  const hasValidCertificate = currentCertificate(sight, unit.id) !== null
  return {
    tag: unit.tag,
    reached: reachedOf(sight, state, outlook),
    next: nextThing({ tag: unit.tag, bench, hasValidCertificate, lot, lacks, shared, soak: soakNow(sight, state) }),
    lot: lot && { number: lot.number, closesAt: lot.closesAt, standingMinor: lot.standingMinor, currency: lot.currency },
  }
}

/** How far the soak that runs on a unit has come. */
function soakNow(sight: Sight, { unit, design }: UnitState): SoakClock | null {
  const running = runningSoak(sight, unit.id)
  const check = design.checks.find(({ key }) => key === running?.check)
  return running && check ? soakClock(running, check, sight.now) : null
}

function reachedOf(sight: Sight, { unit, bench }: UnitState, outlook: UnitOutlook | undefined): number {
  const lot = findLotOfUnit(sight, unit.id)
  const positions = bench.positions.length
  const fitted = bench.fitted.size
  const lacking = outlook?.lacks.reduce((sum, { quantity }) => sum + quantity, 0) ?? 0
  return reachedBy({
    positions,
    fitted,
    inHand: positions - fitted - lacking,
    hasValidCertificate: currentCertificate(sight, unit.id) !== null,
    lot: lot && {
      isPublic: lot.state !== 'draft' && lot.state !== 'withdrawn',
      isSold: comesTo(lot) > 0,
      isSent: isSent(sight, lot.id),
    },
  })
}
