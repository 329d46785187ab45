import type { Clock } from '#kernel/clock'
import { HOUR, SECOND } from '#kernel/instant'
import type { Queue } from '#runtime/queue/queue'
import type { Sight } from '#runtime/queue/turn'
import type { Log } from '#runtime/settings/log'
import type { Watched } from '#runtime/vitals/vital'
import { openWorkshop, type Workshop } from '#runtime/workers/workers'
import { isLongerThanAStart, setAsideOf } from '#sale/closings/set-aside.service'
import { forgetHistories } from '#sale/history/history.service'
import { judgeLook } from './damage.rules'
import { type LookedThrough, type LookOrder, lookThrough } from './look-through'

/** The first comes when the house has long answered, and while whoever opened it may still be there; at once where the start left something for it. */
const FIRST_AFTER_MS = 10 * SECOND
const EVERY_MS = HOUR

/** Looks, now and then, whether all that was kept is as it was written. */
export interface Looks {
  watched: Watched
  start(): void
  /** Looks now; answers what was found, null where it could not be looked. */
  look(): Promise<LookedThrough | null>
  close(): void
}

/** On a thread and by a reader of its own: a lot with thousands of bids is looked at for longer than a bid may wait. */
export function openLooks(parts: {
  dataDir: string
  clock: Clock
  sight(): Sight
  queue: Pick<Queue, 'run'>
  log: Log
  /** The bundle of the thread that looks; without it this is done on the house's own. */
  lookWorker: string | undefined
}): Looks {
  const { dataDir, clock, sight, queue, log, lookWorker } = parts
  const shop: Pick<Workshop<LookOrder, LookedThrough>, 'make' | 'close'> = lookWorker === undefined
    ? { make: async (order) => lookThrough(order), close: () => {} }
    : openWorkshop({ entry: lookWorker, log })
  let timer: NodeJS.Timeout | null = null
  let found: LookedThrough | null = null
  let failed: string | null = null
  let isUnderWay = false
  let isClosed = false

  const look = async () => {
    if (isUnderWay) return null
    isUnderWay = true
    try {
      const { publicUrl, keys, db } = sight()
      found = await shop.make({ dataDir, publicUrl, now: clock.now(), jwks: keys.jwks() })
      failed = null
      if (found.damage.length + found.pages.length > 0) {
        // What was read before it was altered is shown no longer.
        forgetHistories(db)
        log.error({ ...found }, 'what is kept is damaged; what is kept was not changed')
        const lots = new Set(found.damage.flatMap(({ lot }) => lot ?? []))
        // Whoever bids on it now would be told what may not hold.
        if (lots.size > 0) await queue.run((turn) => setAsideOf(turn, lots))
      }
      return found
    } catch (reason) {
      if (!isClosed) {
        failed = reason instanceof Error ? reason.message : String(reason)
        log.error({ err: reason }, 'what is kept could not be looked through; it is tried again in an hour')
      }
      return null
    } finally {
      isUnderWay = false
    }
  }
  const lookAfter = (ms: number) => {
    timer = setTimeout(() => void look().then(() => isClosed || lookAfter(EVERY_MS)), ms)
    timer.unref()
  }

  return {
    watched: {
      key: 'kept-damaged',
      name: 'What is kept',
      unit: 'count',
      help: 'Places in histories and in the database that are not as they were written.',
      look: () => judgeLook(found, failed),
    },
    start: () => lookAfter(isLongerThanAStart(sight()) ? 0 : FIRST_AFTER_MS),
    look,
    close() {
      isClosed = true
      if (timer) clearTimeout(timer)
      shop.close()
    },
  }
}
