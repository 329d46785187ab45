import { createHmac, randomBytes } from 'node:crypto'
import type { Log } from './log'

/** What happens at the door and is worth a line: who came in, who was turned away, what was asked too often. */
export type DoorEvent = 'signed in' | 'sign-in failed' | 'signed out' | 'confirmed' | 'confirmation failed' | 'refused' | 'limit reached'

const MINUTE_MS = 60_000
/** Of one event from one origin in a minute; whoever tries ten thousand times fills no disk. */
const MOST_OF_ONE = 20
const MOST_IN_ALL = 600

/** Made anew at each start: it tells bursts apart, and nobody can find the address again that an origin stands for. */
const SECRET = randomBytes(32)

/** An address as it may stand in a log. */
export const originOf = (address: string): string =>
  address === '' ? 'the house' : createHmac('sha256', SECRET).update(address).digest('hex').slice(0, 8)

interface Tally {
  minute: number
  written: number
  unwritten: number
  each: Map<string, number>
}
const tallies = new WeakMap<Log, Tally>()

export interface EventParts {
  /** Where it came from; only a keyed hash of it is written. */
  address: string
  /** Other facts, of which none is an address. */
  [fact: string]: string | undefined
}

/** Writes an event at the door into the log. What comes too fast is counted, and told with the next minute's first line. */
export function noteEvent(log: Log, event: DoorEvent, { address, ...facts }: EventParts, wallNow = Date.now()): void {
  const minute = Math.floor(wallNow / MINUTE_MS)
  let tally = tallies.get(log)
  if (tally?.minute !== minute) {
    if (tally && tally.unwritten > 0) log.warn({ unwritten: tally.unwritten }, 'more happened at the door than was written down')
    tally = { minute, written: 0, unwritten: 0, each: new Map() }
    tallies.set(log, tally)
  }
  const origin = originOf(address)
  const key = `${event} ${origin}`
  const of = tally.each.get(key) ?? 0
  if (of >= MOST_OF_ONE || tally.written >= MOST_IN_ALL) {
    tally.unwritten += 1
    return
  }
  tally.each.set(key, of + 1)
  tally.written += 1
  log.info({ event, origin, ...facts }, event)
}
