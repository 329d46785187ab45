const MINUTE = 60
const HOUR = 3_600
const DAY = 86_400

const some = (count: number, one: string): string => `${count} ${one}${count === 1 ? '' : 's'}`

/** A span for a person: "4 seconds", "12 minutes", "5 hours", "3 days". */
export function spanInWords(seconds: number): string {
  if (seconds < 1) return 'less than a second'
  if (seconds < 2 * MINUTE) return some(Math.round(seconds), 'second')
  if (seconds < 2 * HOUR) return some(Math.round(seconds / MINUTE), 'minute')
  if (seconds < 2 * DAY) return some(Math.round(seconds / HOUR), 'hour')
  return some(Math.round(seconds / DAY), 'day')
}

const MEGABYTE = 1024 ** 2
const GIGABYTE = 1024 ** 3

/** A size for a person: "900 MB", "14.2 GB". */
export function sizeInWords(bytes: number): string {
  if (bytes < 10 * MEGABYTE) return `${(bytes / MEGABYTE).toFixed(1)} MB`
  return bytes < GIGABYTE ? `${Math.round(bytes / MEGABYTE)} MB` : `${(bytes / GIGABYTE).toFixed(1)} GB`
}

/** Within a second, to the millisecond: "12 ms", "1.4 seconds". */
export const lagInWords = (seconds: number): string => (seconds < 1 ? `${Math.round(seconds * 1000)} ms` : `${seconds.toFixed(1)} seconds`)
