import { readFileSync } from 'node:fs'

/** Milliseconds for which this thread was on a processor: what others do on a busy machine is not counted where the system says so. */
export function threadTime(): number {
  try {
    return Number(readFileSync('/proc/thread-self/schedstat', 'utf8').split(' ')[0]) / 1e6
  } catch {
    return performance.now()
  }
}

/** How long this thread is busy with something at its best: tried again, three times at most, only where it took longer than `most`. */
export async function busyFor(work: () => unknown, most: number): Promise<number> {
  let best = Number.POSITIVE_INFINITY
  for (let tries = 0; tries < 3 && best > most; tries++) {
    const before = threadTime()
    try {
      await work()
    } catch {
      // A refusal takes its time as well.
    }
    best = Math.min(best, threadTime() - before)
  }
  return best
}
