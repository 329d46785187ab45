import { DateTime } from 'luxon'
import { readEarlier } from '#bench/earlier/earlier.service'
import { pastPace } from '#bench/spent/hours.service'
import { spentPage } from '#bench/spent/spent.service'
import { groupBy } from '#kernel/group'
import type { Instant } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import { spreadOf } from '#kernel/spread'
import { readPictures } from '#money/pictures/pictures.service'
import { getCampaign } from '#people/campaign/campaign.service'
import { inCampaign, listCampaigns, spanOf } from '#people/campaign/which.service'
import type { Actor, Sight } from '#runtime/queue/turn'
import { listLots } from '#sale/lots/lots.service'
import { soldFor } from '#sale/lots/past-sales.service'
import { partsById } from '#stock/catalogue/part.service'
import { listBatches } from '#stock/shelf/batch.service'
import { batchCards } from '#stock/shelf/stock.service'
import type { DesignLesson, FaultLesson, Lessons, PartLesson } from './lessons.contract'
import { byHourOfDay, daysBetween, gaveAgain, type HourOfDay, waitedOf } from './lessons.rules'
import { lessonsFrom } from './lessons.store'

/** So many parts, and gifts that wait, are worth a line. */
const LINES = 15

/** What one campaign, or all of them, taught. Who gave again is named for the maker alone, who has the donors' records. */
export function readLessons(sight: Sight, actor: Pick<Actor, 'role'>, of: number | null): Lessons {
  const all = listCampaigns(sight).toReversed()
  const chosen = all.filter(({ number }) => of === null || number === of)
  if (chosen.length === 0) throw new Refusal('not-found', 'There was no such campaign here.')
  const from = lessonsFrom(sight.db)
  const seen = chosen.map(({ number, zone }) => {
    const own = inCampaign(sight, number)
    return { number, zone, own, lots: listLots(own), span: spanOf(own) }
  })
  const lots = seen.flatMap((one) => one.lots)
  const spans = seen.map(({ span }) => [span.from, span.to] as const)
  const gifts = spans.flatMap((span) => from.gifts.all(...span))
  const givers = all.flatMap(({ number }) => {
    const { from: begun, to } = spanOf(inCampaign(sight, number))
    return from.givers.all(begun, to).map((one) => ({ ...one, campaign: number }))
  })
  const here = new Set(givers.filter(({ campaign }) => of === null || campaign === of).map(({ donorId }) => donorId))
  const { all: gave, again } = gaveAgain(givers.filter(({ donorId }) => here.has(donorId)))
  const names = partsById(
    sight,
    gifts.flatMap(({ partId }) => partId ?? []),
  )
  const checks = spans.flatMap((span) => from.checks.all(...span))
  return {
    currency: getCampaign(sight).currency,
    campaigns: all.map(({ number, name }) => ({ number, name })),
    of,
    designs: designLessons(sight, lots),
    earlier: of === null ? readEarlier(sight).designs : [],
    hours: byHourOfDay(seen.flatMap(({ own, number, zone }) => hoursOf(own, number, zone))),
    faults: addFaults(spans.flatMap((span) => from.faults.all(...span))),
    checks: {
      taken: checks.reduce((sum, { taken }) => sum + taken, 0),
      failed: checks.reduce((sum, { failed }) => sum + failed, 0),
    },
    waited: gifts.length === 0 ? [] : waitedOf(gifts),
    unfitted: gifts
      .filter(({ firstAt }) => firstAt === null)
      .slice(0, LINES)
      .map(({ giftId, partId, words, arrivedAt }) => ({
        giftId,
        partId,
        words: (partId === null ? undefined : names.get(partId)?.words) ?? words,
        days: daysBetween(arrivedAt, sight.now),
      })),
    givers: { all: gave, again: again.length, names: actor.role === 'maker' ? again : [] },
    parts: partLessons(sight, new Set(lots.map(({ unitId }) => unitId))),
  }
}

function designLessons(sight: Sight, lots: ReturnType<typeof listLots>): DesignLesson[] {
  const { machines, designs } = spentPage(sight)
  const parts = new Map(machines.map((machine) => [machine.tag, machine]))
  const inLots = new Set(lots.map(({ unitId }) => unitId))
  const units = pastPace(sight).units.filter(({ unitId }) => inLots.has(unitId))
  const names = new Map(designs.map(({ key, name }) => [key, name]))
  return [...groupBy(units, ({ designKey }) => designKey)].map(([key, own]) => {
    const ids = new Set(own.map(({ unitId }) => unitId))
    const prices = lots.filter(({ unitId }) => ids.has(unitId)).map(soldFor)
    const sold = prices.filter((minor) => minor > 0)
    const sum = (what: 'givenMinor' | 'boughtMinor' | 'unpriced') =>
      own.reduce((total, { tag }) => total + (parts.get(tag)?.[what] ?? 0), 0)
    return {
      key,
      name: names.get(key) ?? '',
      machines: own.length,
      sold: sold.length,
      sales: spreadOf(sold),
      raisedMinor: sold.reduce((total, minor) => total + minor, 0),
      givenMinor: sum('givenMinor'),
      boughtMinor: sum('boughtMinor'),
      unpriced: sum('unpriced'),
      minutes: spreadOf(own.flatMap(({ isFinished, minutes }) => (isFinished && minutes > 0 ? [minutes] : []))),
    }
  })
}

function hoursOf(own: Sight, number: number, zone: string): HourOfDay[] {
  const hourAt = (at: Instant) => DateTime.fromMillis(at, { zone }).hour
  const raised = readPictures(own).hours.map(({ fromAt, lotsMinor, giftMinor, matchedMinor }) => {
    return { hour: hourAt(fromAt), raisedMinor: lotsMinor + giftMinor + matchedMinor, bids: 0 }
  })
  const bids = lessonsFrom(own.db)
    .bids.all(number)
    .map(({ at, bids: many }) => ({ hour: hourAt(at), raisedMinor: 0, bids: many }))
  return [...raised, ...bids]
}

/** The same block and cause of several campaigns in one line, what happened most first. */
const addFaults = (rows: readonly FaultLesson[]): FaultLesson[] =>
  [...groupBy(rows, ({ designName, block, cause }) => JSON.stringify([designName, block, cause])).values()]
    .flatMap((same) => {
      const sum = (of: 'faults' | 'minutes') => same.reduce((total, one) => total + one[of], 0)
      return same.slice(0, 1).map((first) => ({ ...first, faults: sum('faults'), minutes: sum('minutes') }))
    })
    .sort((a, b) => b.faults - a.faults || b.minutes - a.minutes)

function partLessons(sight: Sight, unitIds: ReadonlySet<string>): PartLesson[] {
  const used = groupBy(
    lessonsFrom(sight.db)
      .used.all()
      .filter(({ unitId }) => unitIds.has(unitId)),
    ({ partId }) => partId,
  )
  const inHand = groupBy(batchCards(sight, listBatches(sight)), ({ partId }) => partId)
  const parts = partsById(sight, [...used.keys()])
  return [...used]
    .map(([partId, rows]) => ({
      partId,
      words: parts.get(partId)?.words ?? '',
      used: rows.reduce((sum, row) => sum + row.used, 0),
      machines: rows.length,
      inHand: (inHand.get(partId) ?? []).reduce((sum, batch) => sum + batch.inHand, 0),
    }))
    .sort((a, b) => (a.inHand * a.machines) / a.used - (b.inHand * b.machines) / b.used || b.used - a.used)
    .slice(0, LINES)
}
