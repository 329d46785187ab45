import { MINUTE } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import { placeOf } from '#runtime/disk/place-of'
import { freeOn, openSpare } from '#runtime/disk/spare'
import type { Log } from '#runtime/settings/log'

/** What every screen says while nothing can be stored. Closings wait; they count as an outage when there is room again. */
const FULL_DISK =
  'Nothing can be taken just now, because the disk of this house is full: no bid, no reading and no payment, until there is room again. Whoever runs the machine has to make some. If a lot loses its last minutes to this, its closing moves.'
const BROKEN = 'Nothing can be taken just now, because the disk of this house failed. Whoever runs the machine has to restart the house.'

const MISPLACED =
  'Nothing can be taken just now, because the database of this house is not where it was opened. Whoever runs the machine has to put it back.'

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
  /** Why nothing may be stored while the open file has no name, or another stands there; null where it stands as it was opened. */
  misplaced(): Refusal | null
  /** Keeps room for a full disk, now and again while there is plenty. */
  start(): void
  stop(): void
}

/** `said` is called whenever its words have changed; `ended` when the disk has failed for good. */
export function openDiskTrouble(parts: { dataDir: string; file: string; log: Log; said(): void; ended(): void }): DiskTrouble {
  const { dataDir, file, log, said, ended } = parts
  const place = placeOf(file)
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
    misplaced() {
      if (place.isKept()) {
        if (words === MISPLACED) {
          log.info({ file }, 'the database is back in its place: the house goes on')
          say(null)
        }
        return null
      }
      if (words === null) {
        log.fatal(
          { file },
          'the database was moved, deleted or replaced while the house was open: nothing is stored any more. Put the folder back as it was, and the house goes on. What was deleted is still held open by this process: do not end it before you have a copy (on Linux under /proc, in its fd folder)',
        )
        say(MISPLACED)
      }
      return new Refusal('no-room', MISPLACED)
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
