import type { Instant } from '#kernel/instant'
import type { Recorded } from '#runtime/queue/queue'
import { bidsShownOn } from './keepable.rules'
import type { MadePage, PageShop } from './made-page'

/** A page is made anew at most so often, however much happens to what it shows. */
const QUIET_MS = 100
/** The time is part of many pages: one that is older is made anew, and given out as it is meanwhile, */
const FRESH_MS = 1_000
/** unless it is older than this: then whoever asks waits for the new one. */
const STALE_MS = 2_000
const MOST_PAGES = 500
const MOST_BYTES = 48 * 1024 * 1024

/** Waits for the turn of an asker; gives what to call when it is over, or null where too many of theirs wait already. */
export type TurnOf = (asker: string) => Promise<(() => void) | null>

export interface KeptPages {
  /**
   * A page as nobody in particular sees it, no older than what had happened when it was asked for; null where it has to be made for
   * whoever asks. One that is not kept is made when `turnOf` says that it is the asker's turn.
   */
  get(path: string, asker: string, turnOf: TurnOf): Promise<MadePage | null | 'too many'>
  /** What has happened: what it changes is given out no more. Told before any screen is. */
  touch(facts: readonly Recorded[]): void
  close(): void
}

interface Kept {
  page: MadePage
  bytes: number
  /** When it was begun, by the monotonic clock, and how many times anything had happened by then. */
  began: number
  upTo: number
  trouble: string | null
}

interface Flight {
  upTo: number
  made: Promise<MadePage | null>
}

interface KeptPagesParts {
  shop: PageShop
  now(): Instant
  /** What keeps the house from taking anything, in words: every page says it, and none that was made before or after it does for it. */
  trouble?(): string | null
  quietMs?: number
}

/** Pages that are made once for each change and given to everybody who is not signed in. */
export function openKeptPages({ shop, now, trouble = () => null, quietMs = QUIET_MS }: KeptPagesParts): KeptPages {
  const kept = new Map<string, Kept>()
  const flights = new Map<string, Flight>()
  /** A page rests until it may be made again, and one that is not known waits for a turn: all who want the same wait together. */
  const rests = new Map<string, Promise<void>>()
  const turns = new Map<string, Promise<Flight | 'known' | 'too many'>>()
  let bytes = 0
  let happened = 0
  /** How many times anything had happened when last something did that any page may show, a bid came in, and one on each lot. */
  let everywhere = 0
  let lastBid = 0
  const bidsOn = new Map<number, number>()

  const wantedUpTo = (path: string): number => {
    const shown = bidsShownOn(path)
    if (shown === 'none') return everywhere
    return Math.max(everywhere, shown === 'any' ? lastBid : (bidsOn.get(shown) ?? 0))
  }
  const forget = (path: string) => {
    bytes -= kept.get(path)?.bytes ?? 0
    kept.delete(path)
  }
  const keep = (path: string, one: Kept) => {
    forget(path)
    kept.set(path, one)
    bytes += one.bytes
    for (const oldest of kept.keys()) {
      if (kept.size <= MOST_PAGES && bytes <= MOST_BYTES) break
      forget(oldest)
    }
  }

  const begin = (path: string): Flight => {
    const began = performance.now()
    const upTo = happened
    const told = trouble()
    const made = shop
      .make({ path, now: now(), trouble: told })
      .then((page) => {
        if (page?.status !== 200) forget(path)
        else {
          const size = Object.values(page.bodies).reduce((sum, body) => sum + body.byteLength, 0)
          keep(path, { page, bytes: size, began, upTo, trouble: told })
        }
        return page
      })
      .finally(() => flights.delete(path))
    made.catch(() => {})
    const flight = { upTo, made }
    flights.set(path, flight)
    return flight
  }

  const rest = (path: string, ms: number): Promise<void> => {
    const resting = rests.get(path) ?? new Promise<void>((resolve) => setTimeout(resolve, ms)).finally(() => rests.delete(path))
    rests.set(path, resting)
    return resting
  }

  const beginInTurn = (path: string, asker: string, turnOf: TurnOf): Promise<Flight | 'known' | 'too many'> => {
    const key = `${path} ${asker}`
    const wait = async () => {
      const done = await turnOf(asker)
      if (done === null) return 'too many'
      if (kept.has(path) || flights.has(path)) {
        done()
        return 'known'
      }
      const flight = begin(path)
      flight.made.finally(done).catch(() => {})
      return flight
    }
    const waiting = turns.get(key) ?? wait().finally(() => turns.delete(key))
    turns.set(key, waiting)
    return waiting
  }

  return {
    async get(path, asker, turnOf) {
      const wanted = wantedUpTo(path)
      while (true) {
        const found = kept.get(path)
        const age = found ? performance.now() - found.began : 0
        const isGood = found !== undefined && found.upTo >= wantedUpTo(path) && found.trouble === trouble() && age < STALE_MS
        let flight = flights.get(path)
        if (isGood) {
          // One that cannot be made now is asked for again by whoever comes when the old one is too old.
          if (age >= FRESH_MS && !flight) begin(path)
          return found.page
        }
        if (!flight && found) {
          if (age >= quietMs) flight = begin(path)
          else await rest(path, quietMs - age)
        } else if (!flight) {
          const begun = await beginInTurn(path, asker, turnOf)
          if (begun === 'too many') return begun
          if (begun !== 'known') flight = begun
        }
        if (!flight) continue
        const page = await flight.made
        // What had happened when it was asked for it shows; what happens while it is made would have no end.
        if (flight.upTo >= wanted) return page
      }
    },
    touch(facts) {
      if (facts.length === 0) return
      happened++
      for (const { kind, subject } of facts) {
        const lot = kind === 'lot.bid' ? /^lot:(\d+)$/.exec(subject)?.[1] : undefined
        if (lot === undefined) everywhere = happened
        else {
          lastBid = happened
          bidsOn.set(Number(lot), happened)
        }
      }
      if (everywhere === happened) bidsOn.clear()
    },
    close: () => shop.close(),
  }
}
