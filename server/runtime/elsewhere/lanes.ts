export interface Lanes {
  /** What failed last in a lane and has not succeeded since; null where nothing did. */
  fault(name: string): string | null
  /** Ends them all; what is under way in one is waited for, as long as that may take. */
  stop(longestMs: number): Promise<void>
}

const LONGEST_PAUSE_MS = 15_000

export interface Lane {
  name: string
  everyMs: number
  work(): Promise<void>
}

/** Several kinds of work side by side, each again and again: what fails is tried again after a growing pause, and holds up no other. */
export function openLanes(lanes: readonly Lane[]): Lanes {
  const faults = new Map<string, { words: string; times: number }>()
  const wakes = new Set<() => void>()
  let isStopped = false

  const pause = (ms: number) =>
    new Promise<void>((resolve) => {
      const wake = () => {
        clearTimeout(timer)
        wakes.delete(wake)
        resolve()
      }
      const timer = setTimeout(wake, ms)
      timer.unref()
      wakes.add(wake)
    })

  const drive = async ({ name, everyMs, work }: Lane) => {
    while (!isStopped) {
      try {
        await work()
        faults.delete(name)
      } catch (reason) {
        const times = (faults.get(name)?.times ?? 0) + 1
        faults.set(name, { words: reason instanceof Error ? reason.message : String(reason), times })
      }
      const failed = faults.get(name)?.times ?? 0
      if (!isStopped) await pause(Math.min(LONGEST_PAUSE_MS, everyMs * 2 ** Math.min(10, failed)))
    }
  }
  const driven = lanes.map(drive)
  return {
    fault: (name) => faults.get(name)?.words ?? null,
    async stop(longestMs) {
      isStopped = true
      for (const wake of [...wakes]) wake()
      const late = setTimeout(() => {}, longestMs)
      await Promise.race([Promise.all(driven), new Promise((resolve) => setTimeout(resolve, longestMs).unref())])
      clearTimeout(late)
    },
  }
}
