import { join } from 'node:path'
import type { Clock } from '#kernel/clock'
import { MINUTE } from '#kernel/instant'
import { findCampaign } from '#people/campaign/campaign.service'
import { listDays } from '#people/campaign/stream-days.service'
import { type CopyMade, type CopyOrder, makeBackup } from '#runtime/disk/backup'
import { OF_THE_DAY, sweepParts, thinBackups } from '#runtime/disk/thin-backups'
import type { Sight } from '#runtime/queue/turn'
import type { Log } from '#runtime/settings/log'
import { openWorkshop, type Workshop } from '#runtime/workers/workers'

const EVERY_MS = 30 * MINUTE
const KEPT = 12

/** Through the stream day a copy is made by itself; of these the newest are kept. */
export interface DayCopies {
  isStreamDay(): boolean
  start(): void
  /** Makes one now if it is the day and none is under way. */
  copyOnTheDay(): Promise<void>
  close(): void
}

export function openDayCopies(parts: {
  dataDir: string
  clock: Clock
  sight(): Sight
  log: Log
  /** The bundle of the thread that copies; without it this is done on the house's own. */
  copyWorker: string | undefined
}): DayCopies {
  const { dataDir, clock, sight, log, copyWorker } = parts
  const intoDir = join(dataDir, 'backups')
  const shop: Pick<Workshop<CopyOrder, CopyMade>, 'make' | 'close'> = copyWorker === undefined
    ? { make: (order) => makeBackup(order), close: () => {} }
    : openWorkshop({ entry: copyWorker, log })
  let timer: NodeJS.Timeout | null = null
  let isUnderWay = false
  // Whoever opens the house has its folder: what was being copied here ended with an earlier run.
  sweepParts(intoDir, false)

  const isStreamDay = () => {
    const now = clock.now()
    const days = findCampaign(sight()) === null ? [] : listDays(sight())
    return days.some(({ opensAt, closesAt }) => now >= opensAt && now <= closesAt + EVERY_MS)
  }

  const copyOnTheDay = async () => {
    if (isUnderWay || !isStreamDay()) return
    const at = clock.now()
    isUnderWay = true
    try {
      const { dir, bytes } = await shop.make({ dataDir, intoDir, at, madeFor: 'the day', why: OF_THE_DAY })
      log.info({ dir, bytes }, 'a copy of the house was made')
      thinBackups(intoDir, KEPT)
    } catch (reason) {
      log.error({ err: reason }, 'the copy of the stream day failed; the next one is tried in half an hour')
    } finally {
      isUnderWay = false
    }
  }

  return {
    isStreamDay,
    start() {
      timer = setInterval(copyOnTheDay, EVERY_MS)
      timer.unref()
    },
    copyOnTheDay,
    close() {
      if (timer) clearInterval(timer)
      shop.close()
    },
  }
}
