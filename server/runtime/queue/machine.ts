import { readFileSync } from 'node:fs'
import { uptime } from 'node:os'

/** Time as it goes by on this machine, whatever its wall clock is set to, and while it sleeps as well. */
export interface Machine {
  /** Milliseconds gone by since some instant; never backwards. */
  passed(): number
  /** How long the machine has been up, and a name for this start of it: the same after a restart of the house alone. Null where the system has none. */
  up(): { seconds: number; start: string | null }
}

export interface Clockworks {
  /** The wall clock, in ms. */
  wall(): number
  /** In ms; stands still while the machine sleeps. */
  monotonic(): number
  /** In seconds; goes on while the machine sleeps. */
  upSeconds(): number
  start(): string | null
}

const SYSTEM: Clockworks = { wall: Date.now, monotonic: () => performance.now(), upSeconds: uptime, start: bootName }

/** Further apart than this within one reading, wall and monotonic clock no longer agree. */
const APART_MS = 2_000

/**
 * Carries the monotonic clock on over a sleep. That stands still while a laptop's lid is closed, just as the wall jumps when
 * somebody sets it; which of the two happened, the machine's uptime tells, to a second.
 */
export function openMachine({ wall, monotonic, upSeconds, start }: Clockworks = SYSTEM): Machine {
  const began = { up: upSeconds(), monotonic: monotonic() }
  let slept = 0
  let apart = wall() - monotonic()
  return {
    passed() {
      const awake = monotonic()
      const now = wall() - awake
      if (Math.abs(now - apart) > APART_MS) {
        apart = now
        slept = Math.max(slept, sleepOf((upSeconds() - began.up) * 1000 - (awake - began.monotonic), slept))
      }
      return awake + slept
    },
    up: () => ({ seconds: upSeconds(), start: start() }),
  }
}

/** What the uptime has gone on for beyond the monotonic clock; a second of it may be rounding. */
const sleepOf = (more: number, before: number): number => (more - before > APART_MS ? more : before)

/** Linux gives each start a name; elsewhere the wall alone is asked how long the house was away. */
function bootName(): string | null {
  try {
    return readFileSync('/proc/sys/kernel/random/boot_id', 'utf8').trim()
  } catch {
    return null
  }
}
