import { monitorEventLoopDelay } from 'node:perf_hooks'
import type { Lag } from './process.rules'

const RESOLUTION_MS = 10
const NANOSECONDS = 1e9
/** Over so long what is late once in a while does not count, and what is late all the time does. */
const MEASURED_OVER_MS = 60_000
const SHORTEST_MS = 5_000

export interface LoopLag {
  /** How late the turns of the event loop were, over the last minute or so. */
  read(): Lag | null
  stop(): void
}

export function watchLoop(): LoopLag {
  const delays = monitorEventLoopDelay({ resolution: RESOLUTION_MS })
  delays.enable()
  let since = performance.now()
  let last: Lag | null = null
  // What is measured is the time between two looks, the wait that was asked for included.
  const late = (nanoseconds: number) => Math.max(0, nanoseconds / NANOSECONDS - RESOLUTION_MS / 1000)
  return {
    read() {
      const over = performance.now() - since
      if (over < SHORTEST_MS || delays.count === 0) return last
      last = { half: late(delays.percentile(50)), most: late(delays.percentile(99)), longest: late(delays.max) }
      if (over >= MEASURED_OVER_MS) {
        delays.reset()
        since = performance.now()
      }
      return last
    },
    stop: () => void delays.disable(),
  }
}
