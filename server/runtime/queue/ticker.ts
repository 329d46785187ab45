import type { Clock } from '#kernel/clock'
import type { Instant } from '#kernel/instant'
import type { Log } from '../settings/log'
import type { Queue } from './queue'
import type { Sight, Turn } from './turn'

/** Something that falls due: `nextAt` says when, `run` does what is due at the turn's `now`, once or many times with the same effect. */
export interface Sweep {
  name: string
  nextAt(sight: Sight): Instant | null
  run(turn: Turn): void
}

/** setTimeout overflows past 24.8 days; looking again each minute also follows a clock that was set. */
const LONGEST_WAIT_MS = 60_000

export interface Ticker {
  /** Something changed: look again at what is due when. */
  wake(): void
  stop(): void
}

/** The only timer of the trade: sleeps until the earliest sweep is due, runs what is due, sleeps again. */
export function openTicker(parts: { sweeps: readonly Sweep[]; sight(): Sight; queue: Queue; clock: Clock; log: Log }): Ticker {
  const { sweeps, sight, queue, clock, log } = parts
  let timer: NodeJS.Timeout | null = null
  let stopped = false
  let running = false

  const runDue = async () => {
    running = true
    for (const sweep of sweeps) {
      const due = sweep.nextAt(sight())
      if (due === null || due > clock.now()) continue
      try {
        await queue.run((turn) => sweep.run(turn))
      } catch (reason) {
        log.error({ err: reason, sweep: sweep.name }, 'a sweep failed; it is tried again')
      }
    }
    running = false
    arm(50)
  }

  const arm = (least = 0) => {
    if (stopped || running) return
    if (timer) clearTimeout(timer)
    const next = sweeps.map((sweep) => sweep.nextAt(sight())).filter((at) => at !== null)
    const wait = next.length === 0 ? LONGEST_WAIT_MS : (Math.min(...next) - clock.now()) / (clock.pace?.() ?? 1)
    timer = setTimeout(runDue, Math.max(least, Math.min(LONGEST_WAIT_MS, wait)))
    timer.unref()
  }

  arm()
  return {
    wake: () => arm(),
    stop() {
      stopped = true
      if (timer) clearTimeout(timer)
    },
  }
}
