import type { Instant } from './instant'

/**
 * An identifier that stands after all that were made earlier: a UUID of version 4 made into one of version 7 (RFC 9562, 5.7), whose
 * first 48 bits are milliseconds since 1970. For rows that are written at every bid: ids in no order are each written into another
 * page of their index, and each of these pages goes to the disk.
 */
export function idInTime(now: Instant, random: string): string {
  const time = now.toString(16).padStart(12, '0')
  return `${time.slice(0, 8)}-${time.slice(8)}-7${random.slice(15)}`
}
