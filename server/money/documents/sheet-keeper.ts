import type { PaperOrder } from '#paper/order'
import type { Recorded } from '#runtime/queue/queue'
import type { Sight, Turn } from '#runtime/queue/turn'
import type { Log } from '#runtime/settings/log'
import { keepSheets } from './papers.service'

/** Sets each document once it was issued, off the thread that takes bids; what a stopped house left waiting is set when it opens. */
export function openSheetKeeper(parts: {
  sight(): Sight
  command<T>(work: (turn: Turn) => T): Promise<T>
  print(order: PaperOrder): Promise<Uint8Array>
  log: Log
}) {
  let isBusy = false
  let isAgain = false
  let isStopped = false
  const round = async (): Promise<void> => {
    if (isBusy) {
      isAgain = true
      return
    }
    isBusy = true
    try {
      await keepSheets(parts)
    } catch (reason) {
      // It is tried again with the next document, and when the house opens; until then the address sets it from what was kept.
      if (!isStopped) parts.log.error({ err: reason }, 'the sheet of an invoice could not be kept')
    } finally {
      isBusy = false
    }
    if (isAgain && !isStopped) {
      isAgain = false
      await round()
    }
  }
  return {
    round,
    heard: (facts: readonly Recorded[]): void => {
      if (!isStopped && facts.some(({ kind }) => kind === 'invoice.issued')) void round()
    },
    stop: () => {
      isStopped = true
    },
  }
}
