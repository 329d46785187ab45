import type { Instant } from './instant'

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

/** "19:40" of the zone. */
export const showClock = (at: Instant, zone: string): string => sayTime(civilIn(at, zone))

/** "Saturday 13 March" of the zone. */
export const showDay = (at: Instant, zone: string): string => sayDay(civilIn(at, zone))

/** "Europe/London" read as people say it: "London". */
export const zonePlace = (zone: string): string => (zone.split('/').at(-1) ?? zone).replaceAll('_', ' ')
