import { readFileSync } from 'node:fs'
import type { Log } from '../settings/log'

/** Kept for pages, calls, the database and mail: a tenth of what the system allows, and a hundred at least. */
const LEAST_KEPT = 100
const TOLD_EVERY_MS = 60_000

/** How many streams may be open at a time, so that files are left for everything else. Each screen is an open file to the system. */
export interface OpenFiles {
  /** What the system lets this program hold open; null where it does not say. */
  readonly limit: number | null
  /** Connections in all, so that the database can always open its own files. */
  readonly mostConnections: number
  /** Whether there is room for a stream beside so many. Where there is none, that is logged and shown to the staff. */
  hasRoom(streams: number): boolean
  /** Whether a screen was turned away in the last ten minutes. */
  wasShort(): boolean
}

/** The limit as Linux has it at `/proc/self/limits`; Node has raised the soft one to the hard one by then. */
export function limitIn(text: string): number | null {
  const soft = /^Max open files\s+(\d+)/m.exec(text)?.[1]
  return soft === undefined ? null : Number(soft)
}

function ownLimit(): number | null {
  try {
    return limitIn(readFileSync('/proc/self/limits', 'utf8'))
  } catch {
    return null
  }
}

const SHOWN_FOR_MS = 10 * 60_000

export function openOpenFiles(log: Log, limit = ownLimit()): OpenFiles {
  const kept = limit === null ? 0 : Math.max(LEAST_KEPT, Math.ceil(limit / 10))
  const mostStreams = limit === null ? Number.POSITIVE_INFINITY : Math.max(0, limit - kept)
  let shortAt = Number.NEGATIVE_INFINITY
  let toldAt = Number.NEGATIVE_INFINITY
  return {
    limit,
    mostConnections: limit === null ? Number.POSITIVE_INFINITY : Math.max(1, limit - Math.ceil(kept / 2)),
    hasRoom(streams) {
      if (streams < mostStreams) return true
      shortAt = performance.now()
      if (shortAt - toldAt > TOLD_EVERY_MS) {
        toldAt = shortAt
        log.warn(
          { limit, streams },
          `${streams} screens are followed, and the system lets this program hold ${limit} files open: further screens are turned away until some leave. Allow more before the next start: LimitNOFILE=65536 in the unit of systemd, or ulimit -n 65536 in the shell`,
        )
      }
      return false
    },
    wasShort: () => performance.now() - shortAt < SHOWN_FOR_MS,
  }
}
