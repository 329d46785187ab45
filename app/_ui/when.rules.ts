import type { Instant } from '#kernel/instant'

export interface Civil {
  year: number
  month: number
  day: number
  /** 0 Sunday … 6 Saturday. */
  weekday: number
  hour: number
  minute: number
}

const DAYS = ['Sunday', 'Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday']
const MONTHS = ['January', 'February', 'March', 'April', 'May', 'June', 'July', 'August', 'September', 'October', 'November', 'December']

const formats = new Map<string, Intl.DateTimeFormat>()

function formatFor(zone: string): Intl.DateTimeFormat {
  const known = formats.get(zone)
  if (known) return known
  const made = new Intl.DateTimeFormat('en-GB', {
    timeZone: zone,
    hourCycle: 'h23',
    year: 'numeric',
    month: 'numeric',
    day: 'numeric',
    hour: 'numeric',
    minute: 'numeric',
  })
  formats.set(zone, made)
  return made
}

/** The wall clock and calendar of `zone` (an IANA name) at an instant. */
export function civilIn(at: Instant, zone: string): Civil {
  const read: Record<string, number> = {}
  for (const { type, value } of formatFor(zone).formatToParts(at)) read[type] = Number(value)
  const { year = 0, month = 1, day = 1, hour = 0, minute = 0 } = read
  return { year, month, day, hour, minute, weekday: new Date(Date.UTC(year, month - 1, day)).getUTCDay() }
}

const two = (n: number) => n.toString().padStart(2, '0')

/*
 * The words are put together here from numbers: server and browser may carry different editions of
 * the locale data ("Sep", "Sept"), and a page whose two renderings differ is thrown away by React.
 */
export const sayTime = ({ hour, minute }: Civil): string => `${two(hour)}:${two(minute)}`

export const sayDay = ({ weekday, day, month, year }: Civil, { withYear = false } = {}): string =>
  `${DAYS[weekday]} ${day} ${MONTHS[month - 1]}${withYear ? ` ${year}` : ''}`

export type WhenShow = 'time' | 'day' | 'both'

export const sayWhen = (at: Instant, zone: string, show: WhenShow): string => {
  const civil = civilIn(at, zone)
  if (show === 'time') return sayTime(civil)
  return show === 'day' ? sayDay(civil, { withYear: true }) : `${sayDay(civil)}, ${sayTime(civil)}`
}

/** "London" from "Europe/London", "New York" from "America/New_York". */
export const placeOf = (zone: string): string => (zone.split('/').at(-1) ?? zone).replaceAll('_', ' ')

/** The same wall clock at that instant: then one time is enough for both. */
export const sameWall = (at: Instant, one: string, other: string): boolean => sayWhen(at, one, 'both') === sayWhen(at, other, 'both')
