import type { DeviceRow } from '#people/devices/devices.service'
import type { Pushed, PushPost } from '#people/devices/push-post'

/**
 * So many are under way at once, so many of them to one person and to one push service, and so many to people whose devices were
 * not reached the last time: what hangs keeps its own owner waiting, and hardly anybody else.
 */
const LANES = 24
const LANES_OF_PERSON = 2
const LANES_OF_SERVICE = 8
const LANES_OF_UNREACHED = 8
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
  const underWay = new Set<PushJob>()
  /** People of whom a device was not reached the last time that one was tried. */
  const unreached = new Set<string>()
  const again = new Set<NodeJS.Timeout>()
  let idle: (() => void)[] = []
  let isStopped = false
  let isStarting = false

  /** Turns go round by person: first who has the fewest under way, and of those who has waited longest. */
  const takeNext = () => {
    if (underWay.size >= LANES) return null
    const [ofPerson, ofService] = [new Map<string, number>(), new Map<string, number>()]
    let ofUnreached = 0
    for (const { device } of underWay) {
      ofPerson.set(device.personId, (ofPerson.get(device.personId) ?? 0) + 1)
      ofService.set(serviceOf(device), (ofService.get(serviceOf(device)) ?? 0) + 1)
      if (unreached.has(device.personId)) ofUnreached++
    }
    let best: string | null = null
    let fewest = LANES_OF_PERSON
    for (const [name, { device }] of waiting) {
      const many = ofPerson.get(device.personId) ?? 0
      if (many >= fewest || (ofService.get(serviceOf(device)) ?? 0) >= LANES_OF_SERVICE) continue
      if (unreached.has(device.personId) && ofUnreached >= LANES_OF_UNREACHED) continue
      best = name
      fewest = many
      if (many === 0) break
    }
    const job = best === null ? undefined : waiting.get(best)
    if (best === null || !job) return null
    waiting.delete(best)
    return { name: best, job }
  }

  const fill = () => {
    isStarting = false
    for (let next = isStopped ? null : takeNext(); next; next = takeNext()) {
      const { name, job } = next
      underWay.add(job)
      deliver(name, job).finally(() => {
        underWay.delete(job)
        fill()
      })
    }
    if (underWay.size > 0) return
    for (const done of idle) done()
    idle = []
  }

  const deliver = async (name: string, job: PushJob & { tries: number }) => {
    const pushed = job.make()
    if (!pushed) return
    const answer = await post.send(job.device, pushed).catch(() => 'refused' as const)
    if (answer === 'not reached') unreached.add(job.device.personId)
    else unreached.delete(job.device.personId)
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
    if (isStarting) return
    isStarting = true
    setImmediate(fill)
  }

  return {
    put: (job) => put({ ...job, tries: 0 }, `${job.device.id} ${job.topic}`),
    settled: () => (underWay.size === 0 && !isStarting ? Promise.resolve() : new Promise((resolve) => idle.push(resolve))),
    stop() {
      isStopped = true
      waiting.clear()
      for (const timer of again) clearTimeout(timer)
    },
  }
}

const serviceOf = ({ endpoint }: DeviceRow): string => new URL(endpoint).host
