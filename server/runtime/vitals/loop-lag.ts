import { monitorEventLoopDelay } from 'node:perf_hooks'
import type { Lag } from './process.rules'

const RESOLUTION_MS = 10
const NANOSECONDS = 1e9
/** Fewer turns than these say nothing. */
const FEWEST = 20

export interface LoopLag {
  /** How late the turns of the event loop were since this was last asked; what it was before, where there were too few. */
  read(): Lag | null
  stop(): void
}

export function watchLoop(): LoopLag {
  const delays = monitorEventLoopDelay({ resolution: RESOLUTION_MS })
  delays.enable()
  let last: Lag | null = null
  // What is measured is the time between two looks, the wait that was asked for included.
  const late = (nanoseconds: number) => Math.max(0, nanoseconds / NANOSECONDS - RESOLUTION_MS / 1000)
  return {
    read() {
      if (delays.count < FEWEST) return last
      last = { half: late(delays.percentile(50)), most: late(delays.percentile(99)), longest: late(delays.max) }
      delays.reset()
      return last
    },
    stop: () => void delays.disable(),
  }
}
