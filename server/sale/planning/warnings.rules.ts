import { DateTime, IANAZone } from 'luxon'
import { DAY, type Instant } from '#kernel/instant'
import { showClock, showDay, zonePlace } from '#kernel/wall-clock'
import { awakeWeight } from '../programme/awake.rules'
import { clockChangeWithin } from '../programme/civil-time.rules'
import { zonesOfCountry } from './country-zones.rules'

export interface WarnedClosing {
  lot: number
  at: Instant
  /** The country of each who follows the lot; null where none was said. */
  followers: readonly (string | null)[]
}

export interface WarningQuestion {
  now: Instant
  opensAt: Instant
  closesAt: Instant
  home: string
  /** The audience's zones. */
  zones: readonly string[]
  closings: readonly WarnedClosing[]
}

/** With fewer followers a share would tell where somebody lives. */
const LEAST_FOLLOWERS = 3
/** Below this weight an hour counts as night. */
const NIGHT = 0.2

/** What a plan should not overlook: clocks that change about the day, dates that differ, lots that close while their own followers sleep. */
export function warningsOf(question: WarningQuestion): string[] {
  const abroad = question.zones.filter((zone) => zone !== question.home)
  return [
    ...[question.home, ...abroad].flatMap((zone) => changeAbout(question, zone)),
    ...abroad.flatMap((zone) => otherDistance(question, zone)),
    ...abroad.flatMap((zone) => otherDate(question, zone)),
    ...question.closings.flatMap(asleep),
  ]
}

/** Clocks that change the night before or after; a change during the stream is said elsewhere. */
function changeAbout({ opensAt, closesAt }: WarningQuestion, zone: string): string[] {
  return [
    { change: clockChangeWithin(opensAt - DAY, opensAt, zone), when: 'before' },
    { change: clockChangeWithin(closesAt, closesAt + DAY, zone), when: 'after' },
  ].flatMap(({ change, when }) => {
    if (!change) return []
    const way = change.minutes > 0 ? 'forward' : 'back'
    return `In ${zonePlace(zone)} the clocks go ${way} ${Math.abs(change.minutes)} minutes within a day ${when} the stream, on ${showDay(change.at, zone)}.`
  })
}

/** A place that will be nearer or further by the clock than it is today: times that were told by heart are wrong then. */
function otherDistance({ now, opensAt, home }: WarningQuestion, zone: string): string[] {
  const apart = (at: Instant) => IANAZone.create(zone).offset(at) - IANAZone.create(home).offset(at)
  if (apart(now) === apart(opensAt)) return []
  return [
    `${zonePlace(zone)} is ${sayApart(apart(now))} ${zonePlace(home)} today and ${sayApart(apart(opensAt))} it on the day: ${showClock(opensAt, home)} is ${showClock(opensAt, zone)} there.`,
  ]
}

function otherDate({ closings, home }: WarningQuestion, zone: string): string[] {
  const date = (at: Instant, where: string) => DateTime.fromMillis(at, { zone: where }).toISODate()
  const shifted = closings.filter(({ at }) => date(at, zone) !== date(at, home))
  const first = shifted[0]
  if (!first) return []
  const lots = shifted.map(({ lot }) => lot)
  const names = lots.length === 1 ? `lot ${lots[0]} closes` : `lots ${lots.slice(0, -1).join(', ')} and ${lots.at(-1)} close`
  return [
    `In ${zonePlace(zone)} ${names} on another day than in ${zonePlace(home)}: from ${showClock(first.at, zone)} on ${showDay(first.at, zone)}.`,
  ]
}

function asleep({ lot, at, followers }: WarnedClosing): string[] {
  const known = followers.flatMap((country) => country ?? [])
  if (known.length < LEAST_FOLLOWERS) return []
  const nights = known.reduce((sum, country) => sum + nightShare(country, at), 0)
  const share = nights / known.length
  return share < 0.5
    ? []
    : [`Lot ${lot} closes at night for ${Math.round(share * 100)} % of those who follow it, by the countries they named.`]
}

/** Of a country's different hours, the share at which it is night: a country of many hours counts for a part. */
function nightShare(country: string, at: Instant): number {
  const zones = new Map(zonesOfCountry(country).map((zone) => [DateTime.fromMillis(at, { zone }).hour, zone]))
  if (zones.size === 0) return 0
  return [...zones.values()].filter((zone) => awakeWeight(at, { zone }) < NIGHT).length / zones.size
}

function sayApart(minutes: number): string {
  const hours = Math.abs(minutes) / 60
  const words = hours === 1 ? 'one hour' : `${hours} hours`
  return minutes === 0 ? 'level with' : `${words} ${minutes > 0 ? 'ahead of' : 'behind'}`
}
