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

/** setTimeout overflows past 24.8 days; looking again every ten seconds also follows a clock that was set, and shows that the ticker lives. */
const LONGEST_WAIT_MS = 10_000
/** What failed is tried again after half a second, then each time twice as late. */
const FIRST_AGAIN_MS = 500
const LONGEST_AGAIN_MS = 4_000

export interface Ticker {
  /** Something changed: look again at what is due when. */
  wake(): void
  /** When it last looked at what is due, which sweeps failed when they were last tried, and since when they have; by the monotonic clock. */
  state(): { lookedAt: number; failing: string[]; failedSince: ReadonlyMap<string, number> }
  stop(): void
}

interface Failing {
  times: number
  since: number
  /** Not before this, by the monotonic clock. */
  againAt: number
}

/**
 * The only timer of the trade: sleeps until the earliest sweep is due, runs what is due, sleeps again. Whatever one sweep
 * throws, the others go on, and it is tried again.
 */
export function openTicker(parts: { sweeps: readonly Sweep[]; sight(): Sight; queue: Queue; clock: Clock; log: Log }): Ticker {
  const { sweeps, sight, queue, clock, log } = parts
  const failing = new Map<string, Failing>()
  let timer: NodeJS.Timeout | null = null
  let stopped = false
  let running = false
  let lookedAt = performance.now()

  const fail = (sweep: Sweep, reason: unknown) => {
    const { times: before, since } = failing.get(sweep.name) ?? { times: 0, since: performance.now() }
    const times = before + 1
    const wait = Math.min(LONGEST_AGAIN_MS, FIRST_AGAIN_MS * 2 ** (times - 1))
    failing.set(sweep.name, { times, since, againAt: performance.now() + wait })
    // The first time, the second, the fourth and so on: a disk that stays full does not fill the log as well.
    if (Number.isInteger(Math.log2(times))) log.error({ err: reason, sweep: sweep.name, times }, 'a sweep failed; it is tried again')
  }

  /** In how many milliseconds a sweep wants to run; null when nothing is to come. */
  const waitOf = (sweep: Sweep): number | null => {
    const held = (failing.get(sweep.name)?.againAt ?? 0) - performance.now()
    if (held > 0) return held
    try {
      const next = sweep.nextAt(sight())
      const wait = next === null ? null : (next - clock.now()) / (clock.pace?.() || 1)
      if (wait === null || wait > 0) failing.delete(sweep.name)
      return wait
    } catch (reason) {
      fail(sweep, reason)
      return FIRST_AGAIN_MS
    }
  }

  const runDue = async () => {
    running = true
    for (const sweep of sweeps) {
      lookedAt = performance.now()
      const wait = waitOf(sweep)
      if (wait === null || wait > 0) continue
      try {
        await queue.run((turn) => sweep.run(turn))
        failing.delete(sweep.name)
      } catch (reason) {
        fail(sweep, reason)
      }
      if (stopped) return
    }
    running = false
    arm(50)
  }

  const arm = (least = 0) => {
    if (stopped || running) return
    if (timer) clearTimeout(timer)
    lookedAt = performance.now()
    const wait = Math.min(LONGEST_WAIT_MS, ...sweeps.map((sweep) => waitOf(sweep) ?? LONGEST_WAIT_MS))
    timer = setTimeout(runDue, Math.max(least, wait))
    timer.unref()
  }

  arm()
  return {
    wake: () => arm(),
    state: () => ({
      lookedAt,
      failing: [...failing.keys()],
      failedSince: new Map([...failing].map(([name, { since }]) => [name, since])),
    }),
    stop() {
      stopped = true
      if (timer) clearTimeout(timer)
    },
  }
}
