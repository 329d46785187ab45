import type { DeviceRow } from '#people/devices/devices.service'
import type { Pushed, PushPost } from '#people/devices/push-post'

/** So many are under way at once: a push service that is slow keeps the others waiting no longer. */
const LANES = 8
/** More than this wait only where no push service is reached; what is new is then left to the mail. */
const MOST_WAITING = 5_000
const AGAIN_AFTER_MS = [2_000, 10_000]

/** One message to one device. What it says is made when it goes, and null when it is no longer so. */
export interface PushJob {
  device: DeviceRow
  topic: string
  make(): Pushed | null
  /** Called once with what became of it; not when it was overtaken. */
  became(answer: 'taken' | 'gone' | 'lost'): void
}

export interface PushQueue {
  put(job: PushJob): void
  /** When nothing is under way any more, but for what is tried again later. */
  settled(): Promise<void>
  stop(): void
}

/** Hands messages over beside everything else: a bid never waits for one. What is newer for a device takes the place of what waits there of the same topic. */
export function openPushQueue({ post, againAfterMs = AGAIN_AFTER_MS }: { post: PushPost; againAfterMs?: readonly number[] }): PushQueue {
  const waiting = new Map<string, PushJob & { tries: number }>()
  const again = new Set<NodeJS.Timeout>()
  let idle: (() => void)[] = []
  let lanes = 0
  let isStopped = false

  const walk = async () => {
    for (let next = waiting.entries().next(); !next.done && !isStopped; next = waiting.entries().next()) {
      const [name, job] = next.value
      waiting.delete(name)
      await deliver(name, job)
    }
  }

  const deliver = async (name: string, job: PushJob & { tries: number }) => {
    const pushed = job.make()
    if (!pushed) return
    const answer = await post.send(job.device, pushed).catch(() => 'refused' as const)
    if (answer === 'taken' || answer === 'gone') return job.became(answer)
    const wait = answer === 'not reached' ? againAfterMs[job.tries] : undefined
    if (wait === undefined || isStopped) return job.became('lost')
    const timer = setTimeout(() => {
      again.delete(timer)
      if (!waiting.has(name)) put({ ...job, tries: job.tries + 1 }, name)
    }, wait)
    timer.unref()
    again.add(timer)
  }

  const put = (job: PushJob & { tries: number }, name: string) => {
    if (isStopped || (waiting.size >= MOST_WAITING && !waiting.has(name))) return
    waiting.delete(name)
    waiting.set(name, job)
    if (lanes >= LANES) return
    lanes++
    setImmediate(() =>
      walk().finally(() => {
        lanes--
        if (lanes > 0) return
        for (const done of idle) done()
        idle = []
      }),
    )
  }

  return {
    put: (job) => put({ ...job, tries: 0 }, `${job.device.id} ${job.topic}`),
    settled: () => (lanes === 0 ? Promise.resolve() : new Promise((resolve) => idle.push(resolve))),
    stop() {
      isStopped = true
      waiting.clear()
      for (const timer of again) clearTimeout(timer)
    },
  }
}
