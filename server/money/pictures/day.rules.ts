import type { Instant } from '#kernel/instant'
import type { Minor } from '#kernel/money'
import type { JournalEntry } from '../journal/lot-account.rules'
import type { MatchPromise } from '../matching/matching.rules'
import { countProceeds } from '../proceeds/proceeds.rules'

/** What counted from an instant on. What was sent on is a part of `paidMinor`. */
export interface DayPoint {
  at: Instant
  bidMinor: Minor
  wonMinor: Minor
  paidMinor: Minor
}

/** A lot's end, and what counted just after it. `hammerMinor` is null where nobody won. */
export interface DayClose extends DayPoint {
  lot: number
  hammerMinor: Minor | null
}

export interface DayOf {
  fromAt: Instant
  toAt: Instant
  standings: readonly { lotId: string; at: Instant; isEnd: boolean; standingMinor: Minor | null }[]
  lots: readonly { id: string; number: number; reserveMinor: Minor | null; hammerMinor: Minor | null; shareBp?: number | undefined }[]
  entries: readonly JournalEntry[]
  promises: readonly (MatchPromise & { at: Instant; endedAt: Instant | null })[]
  shareBp: number
  targetMinor: Minor
}

/** At so many instants, besides those of the events, the moving sum of bids is looked at: the picture is no finer than that. */
const LOOKS = 120

/**
 * The day as steps: what was bid, won and paid from each instant on. A hammer price counts from the lot's own
 * close, not from the moment at which a sweep wrote it down, so that nothing is missing between the two.
 */
export function dayOf(day: DayOf): { points: DayPoint[]; closes: DayClose[] } {
  const ends = new Map(day.standings.filter(({ isEnd }) => isEnd).map(({ lotId, at }) => [lotId, at]))
  const entries = day.entries
    .map((entry) =>
      entry.kind === 'hammer' && entry.lotId !== null ? { ...entry, at: Math.min(entry.at, ends.get(entry.lotId) ?? entry.at) } : entry,
    )
    .sort((a, b) => a.at - b.at)
  const standings = [...day.standings].sort((a, b) => a.at - b.at)
  const span = day.toAt - day.fromAt
  if (span <= 0) return { points: [], closes: [] }
  const inDay = (at: Instant) => at > day.fromAt && at <= day.toAt
  const looks = Array.from({ length: LOOKS }, (_, index) => Math.round(day.fromAt + (span * index) / LOOKS))
  const moments = [...entries, ...standings.filter(({ isEnd }) => isEnd), ...day.promises].map(({ at }) => at)
  const ended = day.promises.flatMap(({ endedAt }) => endedAt ?? [])
  const instants = [...new Set([...looks, ...[...moments, ...ended].filter(inDay), day.toAt])].sort((a, b) => a - b)

  const standing = new Map<string, Minor>()
  let [bidsSeen, entriesSeen] = [0, 0]
  const pointAt = (at: Instant): DayPoint => {
    for (let next = standings[bidsSeen]; next && next.at <= at; next = standings[++bidsSeen]) {
      if (next.standingMinor === null) standing.delete(next.lotId)
      else standing.set(next.lotId, next.standingMinor)
    }
    while ((entries[entriesSeen]?.at ?? Number.POSITIVE_INFINITY) <= at) entriesSeen += 1
    const { bidMinor, wonMinor, paidMinor, remittedMinor } = countProceeds({
      lots: day.lots.flatMap(({ id, reserveMinor, shareBp }) => {
        const standingMinor = standing.get(id)
        if (standingMinor === undefined) return []
        const reserve = standingMinor < (reserveMinor ?? 0) ? ('unreached' as const) : ('none' as const)
        return [{ isOpen: true, standingMinor, reserve, shareBp }]
      }),
      entries: entries.slice(0, entriesSeen),
      promises: day.promises
        .filter((promise) => promise.at <= at)
        .map((promise) => ({ ...promise, isEnded: promise.endedAt !== null && promise.endedAt <= at })),
      shareBp: day.shareBp,
      targetMinor: day.targetMinor,
    })
    return { at, bidMinor, wonMinor, paidMinor: paidMinor + remittedMinor }
  }
  const points = instants.map(pointAt)
  const at = new Map(points.map((point) => [point.at, point]))
  const closes = day.lots.flatMap(({ id, number, hammerMinor }): DayClose[] => {
    const point = at.get(ends.get(id) ?? Number.NaN)
    return point ? [{ ...point, lot: number, hammerMinor }] : []
  })
  return {
    points: points.filter((point, index) => index === 0 || index === points.length - 1 || differs(point, points[index - 1])),
    closes: closes.sort((a, b) => a.at - b.at || a.lot - b.lot),
  }
}

const differs = (a: DayPoint, b: DayPoint | undefined): boolean =>
  a.bidMinor !== b?.bidMinor || a.wonMinor !== b.wonMinor || a.paidMinor !== b.paidMinor
