import { type Instant, MINUTE } from '#kernel/instant'

/** How much of one thing is let in: so many from one address and so many in all, over some minutes. */
export interface FloodLimit {
  name: string
  each: number
  all: number
  perMinutes: number
  /** What is told to whoever is turned away; when to try again is added. */
  words: string
}

/** Turns away what comes too fast, before any work is done for it. Answers how many minutes to wait, or null for "come in". */
export interface Floods {
  admit(limit: FloodLimit, address: string, now: Instant): number | null
}

interface Bucket {
  left: number
  at: Instant
}

/** So many addresses are remembered for each limit; when there are more, the one that came longest ago is forgotten. */
const MOST_ADDRESSES = 20_000

/**
 * A bucket for each address and one for all, refilled evenly. It is kept in memory: after a restart everybody begins
 * anew, which is cheaper than a row written for each request that is to be shed.
 */
export function openFloods(): Floods {
  const kept = new Map<string, { all: Bucket; each: Map<string, Bucket> }>()
  return {
    admit(limit, address, now) {
      const own = kept.get(limit.name) ?? { all: { left: limit.all, at: now }, each: new Map<string, Bucket>() }
      kept.set(limit.name, own)
      const where = placeOf(address)
      const bucket = own.each.get(where) ?? { left: limit.each, at: now }
      // Taken out and put back, so that the map stays in the order of last use.
      own.each.delete(where)
      own.each.set(where, bucket)
      for (const oldest of own.each.keys()) {
        if (own.each.size <= MOST_ADDRESSES) break
        own.each.delete(oldest)
      }
      fill(bucket, limit.each, limit.perMinutes, now)
      fill(own.all, limit.all, limit.perMinutes, now)
      // What happens in the house's own process (a page it renders, the demo's story) has no address and is not counted.
      if (address === '') return null
      const [short, most] = bucket.left < 1 ? [bucket, limit.each] : own.all.left < 1 ? [own.all, limit.all] : [null, 1]
      if (short) return Math.max(1, Math.ceil(((1 - short.left) * limit.perMinutes) / most))
      bucket.left -= 1
      own.all.left -= 1
      return null
    },
  }
}

function fill(bucket: Bucket, most: number, perMinutes: number, now: Instant): void {
  const refilled = (Math.max(0, now - bucket.at) / (perMinutes * MINUTE)) * most
  bucket.left = Math.min(most, bucket.left + refilled)
  bucket.at = now
}

/** One place: an IPv4 address, or the first half of an IPv6 one, since a single line gets that many of them. */
export function placeOf(address: string): string {
  const mapped = /^::ffff:(\d+\.\d+\.\d+\.\d+)$/i.exec(address)
  if (mapped?.[1]) return mapped[1]
  if (!address.includes(':')) return address
  const [head = '', tail = ''] = address.toLowerCase().split('%')[0]?.split('::') ?? []
  const front = head.split(':').filter(Boolean)
  const back = tail.split(':').filter(Boolean)
  const groups = address.includes('::')
    ? [...front, ...Array.from({ length: Math.max(0, 8 - front.length - back.length) }, () => '0'), ...back]
    : front
  return groups
    .slice(0, 4)
    .map((group) => group.replace(/^0+(?=.)/, ''))
    .join(':')
}
