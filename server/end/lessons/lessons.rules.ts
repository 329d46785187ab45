import { DAY, type Instant } from '#kernel/instant'
import type { Minor } from '#kernel/money'

/** What came to count in one hour of the day, whatever the day, and how many bids were placed in it. */
export interface HourOfDay {
  hour: number
  raisedMinor: Minor
  bids: number
}

/** Adds up by hour of the day; hours in which nothing happened are left out. */
export function byHourOfDay(facts: readonly HourOfDay[]): HourOfDay[] {
  const hours = new Map<number, HourOfDay>()
  for (const { hour, raisedMinor, bids } of facts) {
    const sum = hours.get(hour) ?? { hour, raisedMinor: 0, bids: 0 }
    hours.set(hour, { hour, raisedMinor: sum.raisedMinor + raisedMinor, bids: sum.bids + bids })
  }
  return [...hours.values()].filter(({ raisedMinor, bids }) => raisedMinor !== 0 || bids > 0).sort((a, b) => a.hour - b.hour)
}

/** How many gifts of parts waited so long from their arrival to the first fitting. */
export interface Waited {
  words: string
  gifts: number
}

const WAITS = [
  { words: 'within a week', days: 7 },
  { words: 'within a month', days: 30 },
  { words: 'within three months', days: 91 },
  { words: 'later', days: Number.POSITIVE_INFINITY },
] as const

/** Whole days from one instant to another, begun ones left out; never below nought. */
export const daysBetween = (from: Instant, to: Instant): number => Math.max(0, Math.floor((to - from) / DAY))

/** Every gift in one line: by how soon the first piece of it was fitted, or not yet. */
export function waitedOf(gifts: readonly { arrivedAt: Instant; firstAt: Instant | null }[]): Waited[] {
  const counts = new Map<string, number>()
  for (const { arrivedAt, firstAt } of gifts) {
    const words = firstAt === null ? 'not fitted yet' : (WAITS.find(({ days }) => daysBetween(arrivedAt, firstAt) < days)?.words ?? 'later')
    counts.set(words, (counts.get(words) ?? 0) + 1)
  }
  return [...WAITS.map(({ words }) => words), 'not fitted yet'].map((words) => ({ words, gifts: counts.get(words) ?? 0 }))
}

export interface GaveAgain {
  donorId: string
  name: string
  campaigns: number
}

/** How many gave at all, and who did in more than one campaign; the most faithful first. */
export function gaveAgain(gifts: readonly { donorId: string; name: string; campaign: number }[]): { all: number; again: GaveAgain[] } {
  const donors = new Map<string, { name: string; in: Set<number> }>()
  for (const { donorId, name, campaign } of gifts) {
    const one = donors.get(donorId) ?? { name, in: new Set<number>() }
    one.in.add(campaign)
    donors.set(donorId, one)
  }
  const again = [...donors].flatMap(([donorId, { name, in: campaigns }]) =>
    campaigns.size > 1 ? [{ donorId, name, campaigns: campaigns.size }] : [],
  )
  return { all: donors.size, again: again.sort((a, b) => b.campaigns - a.campaigns || a.name.localeCompare(b.name, 'en')) }
}
