import type { IncomingHttpHeaders } from 'node:http'
import type { Shareable } from './shared.rules'

export interface Kept extends Shareable {
  headers: IncomingHttpHeaders
  body: Buffer
  at: number
  /** The last fact when it was asked for, and which build answered. */
  seq: number
  build: string
}

export interface KeptAnswers {
  get(key: string): Kept | undefined
  set(key: string, one: Kept): void
  forget(key: string): void
  /** What it takes in memory, and of how many answers. */
  size(): { bytes: number; entries: number }
}

interface Bounds {
  bytes: number
  entries: number
}

/** Of the address itself, where pages and files are, */
const PLAIN: Bounds = { bytes: 64 * 1024 * 1024, entries: 2_000 }
/**
 * and of what stands behind a question mark or is spelt with percent signs, which anybody can write in any number of ways: those
 * push out one another alone.
 */
const QUERIES: Bounds = { bytes: 8 * 1024 * 1024, entries: 200 }

/** A string may take two bytes for each letter, and what holds an answer together some more. */
const HOLDING = 500
const bytesOf = (key: string, { headers, body }: Kept): number =>
  body.byteLength + HOLDING + 2 * (key.length + JSON.stringify(headers).length)

/** `restMs`: how long what is fresh no longer is still of use. */
function openShelf(bounds: Bounds, restMs: number): KeptAnswers {
  const kept = new Map<string, { one: Kept; bytes: number }>()
  let bytes = 0
  const forget = (key: string) => {
    bytes -= kept.get(key)?.bytes ?? 0
    kept.delete(key)
  }
  return {
    get: (key) => kept.get(key)?.one,
    set(key, one) {
      forget(key)
      const size = bytesOf(key, one)
      kept.set(key, { one, bytes: size })
      bytes += size
      const now = performance.now()
      // The oldest stand first.
      for (const [other, { one: old }] of kept) {
        if (now - old.at <= old.freshMs + restMs) break
        forget(other)
      }
      for (const oldest of kept.keys()) {
        if (bytes <= bounds.bytes && kept.size <= bounds.entries) break
        forget(oldest)
      }
    },
    forget,
    size: () => ({ bytes, entries: kept.size }),
  }
}

/** A relay's memory of answers: bounded in number, and in bytes with their heads and keys. */
export function openKept(restMs: number): KeptAnswers {
  const plain = openShelf(PLAIN, restMs)
  const queries = openShelf(QUERIES, restMs)
  const shelfOf = (key: string) => (/[?%]/.test(key) ? queries : plain)
  return {
    get: (key) => shelfOf(key).get(key),
    set: (key, one) => shelfOf(key).set(key, one),
    forget: (key) => shelfOf(key).forget(key),
    size: () => ({ bytes: plain.size().bytes + queries.size().bytes, entries: plain.size().entries + queries.size().entries }),
  }
}
