import { MINUTE } from '#kernel/instant'
import { freeOn, openSpare } from '#runtime/disk/spare'
import type { Log } from '#runtime/settings/log'

/** What every screen says while nothing can be stored. Closings wait; they count as an outage when there is room again. */
const FULL_DISK =
  'The disk of this house is full: no bid, reading or payment is taken until there is room. Whoever runs the machine has to act. If the last minutes before a closing are lost, it moves.'
const BROKEN = 'The disk of this house failed: nothing more is accepted until the house has been restarted.'

const SPARE_EVERY_MS = MINUTE
/** With less a bid may find none, though something smaller does. */
const ROOM_TO_GO_ON = 1024 * 1024

/** What the queue tells of a disk that is full or fails, and what is said of it meanwhile. */
export interface DiskTrouble {
  /** In words for every screen; null on a good day. */
  words(): string | null
  /** Lets the room go that was kept for this, if there is any: then what found none is tried again. */
  full(reason: unknown): boolean
  /** Something was kept: whether there is room for more. */
  room(): boolean
  broken(reason: unknown): void
  /** Keeps room for a full disk, now and again while there is plenty. */
  start(): void
  stop(): void
}

/** `said` is called whenever its words have changed; `ended` when the disk has failed for good. */
export function openDiskTrouble(parts: { dataDir: string; log: Log; said(): void; ended(): void }): DiskTrouble {
  const { dataDir, log, said, ended } = parts
  const spare = openSpare(dataDir)
  let words: string | null = null
  let timer: NodeJS.Timeout | null = null
  const say = (next: string | null) => {
    words = next
    said()
  }
  return {
    words: () => words,
    full(reason) {
      if (spare.letGo()) {
        log.error({ err: reason }, 'the disk is full: the house goes on with the room that it kept for that; make room now')
        return true
      }
      if (words !== null) return false
      log.error({ err: reason }, 'the disk is full: what needs room is refused until there is some')
      say(FULL_DISK)
      return false
    },
    room() {
      // The small note of each second may still find room where a bid finds none.
      if (freeOn(dataDir) < ROOM_TO_GO_ON) return false
      log.info('there is room on the disk again')
      say(null)
      return true
    },
    broken(reason) {
      say(BROKEN)
      log.fatal({ err: reason }, 'the disk failed: no command is taken until the house is opened again')
      ended()
    },
    start() {
      spare.keep()
      timer = setInterval(() => words ?? spare.keep(), SPARE_EVERY_MS)
      timer.unref()
    },
    stop() {
      if (timer) clearInterval(timer)
    },
  }
}
