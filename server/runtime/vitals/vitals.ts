import type { Instant } from '#kernel/instant'
import { MINUTE, SECOND } from '#kernel/instant'
import type { Log } from '../settings/log'
import { type Piece, type Standing, type Vital, type Watched, WORSE } from './vital'

const LOOK_EVERY_MS = 5 * SECOND
const PIECE_MS = 5 * MINUTE
/** Six hours of pieces. */
const PIECES = 72

export interface Vitals {
  /** Watches one more. What opens later than the house, such as a copy elsewhere, is added here. */
  watch(...more: readonly Watched[]): void
  /** How everything stands, the worst first, as it was looked at last. */
  list(): readonly Vital[]
  find(key: string): Vital | undefined
  /** The last hours of one of them, oldest first. */
  pieces(key: string): readonly Piece[]
  /** Looks at everything now. */
  look(): void
  /** Looks every few seconds from now on; `then` is called after each look. */
  start(then: () => void): void
  stop(): void
}

declare module '#runtime/call/base' {
  interface Opened {
    vitals: Vitals
  }
}

interface Kept {
  watched: Watched
  vital: Vital | null
  pieces: Piece[]
}

/** Looks at everything that is watched, and keeps how it stood over the last hours in memory. */
export function openVitals({ now, log, watched }: { now(): Instant; log: Log; watched: readonly Watched[] }): Vitals {
  const all: Kept[] = watched.map((one) => ({ watched: one, vital: null, pieces: [] }))
  let timer: NodeJS.Timeout | null = null
  let hasLooked = false

  const lookAt = (kept: Kept, at: Instant) => {
    const { key, name, unit, help, limits = { lower: null, upper: null }, whenNotReady = null } = kept.watched
    const found = findingOf(kept.watched, at, log)
    const since = kept.vital?.standing === found.standing ? kept.vital.since : at
    kept.vital = { key, name, unit, help, limits, whenNotReady, ...found, since }
    note(kept.pieces, { at: at - (at % PIECE_MS), value: found.value, standing: found.standing })
  }
  const look = () => {
    hasLooked = true
    const at = now()
    for (const kept of all) lookAt(kept, at)
  }
  const list = (): Vital[] => {
    if (!hasLooked) look()
    return all.flatMap(({ vital }) => vital ?? []).sort((a, b) => WORSE[b.standing] - WORSE[a.standing])
  }

  return {
    watch(...more) {
      for (const one of more) {
        const kept = { watched: one, vital: null, pieces: [] }
        all.push(kept)
        if (hasLooked) lookAt(kept, now())
      }
    },
    list,
    find: (key) => list().find((vital) => vital.key === key),
    pieces: (key) => all.find(({ watched: one }) => one.key === key)?.pieces ?? [],
    look,
    start(then) {
      const round = () => {
        look()
        then()
      }
      round()
      timer = setInterval(round, LOOK_EVERY_MS)
      timer.unref()
    },
    stop() {
      if (timer) clearInterval(timer)
    },
  }
}

/** What cannot be looked at is worth a look itself, and keeps nothing else from being looked at. */
function findingOf(watched: Watched, at: Instant, log: Log) {
  try {
    return watched.look(at)
  } catch (reason) {
    log.debug({ err: reason, vital: watched.key }, 'could not be looked at')
    return {
      value: null,
      standing: 'look' as Standing,
      words: 'This could not be measured.',
      toDo: 'Look in the log at LOG_LEVEL=debug.',
    }
  }
}

function note(pieces: Piece[], next: Piece): void {
  const last = pieces.at(-1)
  if (last?.at !== next.at) {
    pieces.push(next)
    if (pieces.length > PIECES) pieces.shift()
    return
  }
  last.value = next.value
  if (WORSE[next.standing] > WORSE[last.standing]) last.standing = next.standing
}
