import type { WaitingGroup } from '../queue/queue'
import type { Part } from './message'
import { elsewhereWords } from './place'
import type { Stream } from './stream'

interface UnderWay {
  parts: readonly Part[]
  waiting: WaitingGroup
  /** By the monotonic clock. */
  since: number
  isTooLate: boolean
}

/**
 * Sends groups to the stream, several at a time, each at exactly the place that follows the last, and tells in order when each
 * stands there. When something went wrong on the way, it looks at what stands in the stream before anything is sent again.
 */
export interface Sender {
  /** From here on messages follow this one. */
  begin(number: number): void
  send(parts: readonly Part[], waiting: WaitingGroup): void
  /** Up to which message the stream has confirmed. */
  confirmed(): number
  underWay(): number
  /** Something has waited for longer than anybody has patience. */
  isStuck(): boolean
  /** Everything under way is refused for good. */
  stop(reason: unknown): void
  /** When nothing is under way any more, or after so many ms. */
  settled(mostMs: number): Promise<void>
}

const LOOK_MS = 250
const AGAIN_MS = 200
/** So often in a row it is asked before a stream is said to have lost something. */
const SURE_AFTER = 40

export function openSender(to: {
  stream(): Stream | null
  patienceMs: number
  unconfirmed(): unknown
  said(): void
  conflict(words: string): void
  /** There is room for more. */
  moved(): void
  /** How long it waits before it looks again. */
  againMs?: number
}): Sender {
  const { againMs = AGAIN_MS } = to
  let groups: UnderWay[] = []
  let confirmed = 0
  let isStuck = false
  let isRepairing = false
  let isStopped = false
  /** Sent, and not heard of yet. */
  const asked = new Map<number, Promise<void>>()
  const arrived = new Set<number>()
  /** The last that was to be sent. */
  let newest: Part | null = null
  let look: NodeJS.Timeout | null = null

  const settle = () => {
    for (;;) {
      const [group] = groups
      if (!group?.parts.every(({ number }) => number <= confirmed || arrived.has(number))) break
      groups.shift()
      for (const { number } of group.parts) {
        confirmed = Math.max(confirmed, number)
        arrived.delete(number)
      }
      group.waiting.held()
    }
    if (groups.length === 0) {
      if (look) clearInterval(look)
      look = null
      if (isStuck) {
        isStuck = false
        to.said()
      }
    }
    to.moved()
  }

  /**
   * What goes out before the one before it is confirmed must not stand without it: another machine may have written in that
   * one's place, and then the next number is free.
   */
  const publish = (stream: Stream, part: Part, before: Part | null) => {
    const after = before && before.number > confirmed ? before : undefined
    const answer = stream.publish(part, after).then(
      () => {
        asked.delete(part.number)
        arrived.add(part.number)
        if (!isStopped) settle()
      },
      () => {
        asked.delete(part.number)
        void repair()
      },
    )
    asked.set(part.number, answer)
  }

  /** Looks at what stands in the stream, and sends what does not, one after the other. */
  const repair = async () => {
    if (isRepairing || isStopped) return
    isRepairing = true
    let behind = 0
    try {
      while (!isStopped && groups.length > 0) {
        await Promise.allSettled([...asked.values()])
        const stream = to.stream()
        const next = groups.flatMap(({ parts }) => parts).find(({ number }) => number > confirmed && !arrived.has(number))
        if (!next || !stream) break
        try {
          const { last } = await stream.state()
          // A server that has only just become the first of its kind may not know yet how far it is.
          behind = last < next.number - 1 ? behind + 1 : 0
          if (behind > 0 && behind < SURE_AFTER) throw new Error('the stream is behind')
          if (behind > 0) {
            to.conflict(
              'The stream has lost what it had confirmed. No more is taken here; look at the servers of NATS before anything is started again.',
            )
            return
          }
          if (last >= next.number) {
            const stands = await stream.read(next.number)
            if (!stands) throw new Error('not to be read')
            if (stands.messageId !== next.messageId || stands.part !== next.part) {
              to.conflict(elsewhereWords(next.number, last))
              return
            }
          } else await stream.publish(next)
          arrived.add(next.number)
          settle()
        } catch {
          // Nobody answers, or another answers first: what stands there is looked at again.
          await new Promise((resolve) => setTimeout(resolve, againMs))
        }
      }
    } finally {
      isRepairing = false
    }
  }

  const lookWhoWaits = () => {
    const now = performance.now()
    for (const group of groups) {
      if (group.isTooLate || now - group.since < to.patienceMs) continue
      group.isTooLate = true
      group.waiting.tooLate(to.unconfirmed())
      if (!isStuck) {
        isStuck = true
        to.said()
        to.moved()
      }
    }
  }

  return {
    begin(number) {
      confirmed = number
    },
    send(parts, waiting) {
      groups.push({ parts, waiting, since: performance.now(), isTooLate: false })
      look ??= setInterval(lookWhoWaits, LOOK_MS)
      look.unref()
      if (parts.length === 0) settle()
      const stream = to.stream()
      // While what came before is being looked after, this waits its turn there.
      const isSentNow = stream !== null && !isRepairing
      for (const part of parts) {
        if (isSentNow) publish(stream, part, newest)
        newest = part
      }
    },
    confirmed: () => confirmed,
    underWay: () => groups.length,
    isStuck: () => isStuck,
    stop(reason) {
      isStopped = true
      const waiting = groups
      groups = []
      if (look) clearInterval(look)
      for (const group of waiting) group.waiting.tooLate(reason)
      to.moved()
    },
    async settled(mostMs) {
      const until = performance.now() + mostMs
      while (groups.length > 0 && !isStopped && performance.now() < until) await new Promise((resolve) => setTimeout(resolve, 20))
    },
  }
}
