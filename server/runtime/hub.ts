import type { ServerResponse } from 'node:http'
import { type LiveTopic, topicFor } from './live'
import type { Recorded } from './queue'
import type { Sight } from './turn'
import { openWatcher, type Watcher } from './watcher'

const QUIET_MS = 100
const HEARTBEAT_MS = 5_000
/** Watchers written to in one go; between goes the house takes bids. */
const IN_ONE_GO = 500

interface TopicState {
  watchers: Set<Watcher>
  /** When the next frame may go, by the monotonic clock. */
  notBefore: number
  timer: NodeJS.Timeout | null
  isSending: boolean
  seq: number
  sentSeq: number
  /** What was made last, for those who come within the same breath. */
  fresh: { at: number; seq: number; frame: Buffer | null } | null
}

export interface Hub {
  /** Opens an event stream on `response`. The first frame of every topic is its present state. */
  watch(response: ServerResponse, topics: readonly string[], lastSeen: number | null): void
  announce(facts: readonly Recorded[]): void
  watching(): number
  close(): void
}

/**
 * Server-sent events. A frame is made once and written to every socket as it is; the first at once, then at most
 * one per topic in 100 ms. Frames are complete, so a watcher that does not drain keeps only the latest state: it
 * is skipped while its socket is full, and dropped when it has taken nothing for `stuckMs`.
 */
export function openHub(parts: {
  topics: readonly LiveTopic[]
  sight(): Sight
  seqNow(): number
  stuckMs?: number
  heartbeatMs?: number
}): Hub {
  const { topics, sight, seqNow, stuckMs = 30_000, heartbeatMs = HEARTBEAT_MS } = parts
  const states = new Map<string, TopicState>()
  const watchers = new Set<Watcher>()

  const frameOf = (name: string, seq: number): Buffer | null => {
    const body = topicFor(topics, name)?.frame(sight(), name) ?? null
    return body && Buffer.from(`id: ${seq}\nevent: ${name}\ndata: ${JSON.stringify({ seq, ...body })}\n\n`)
  }
  /** Thousands who come back at once after a break are all sent what was made for the first of them. */
  const presentOf = (name: string, seq: number): Buffer | null => {
    const state = states.get(name)
    const now = performance.now()
    if (state?.fresh && state.fresh.seq === state.seq && now - state.fresh.at < QUIET_MS) return state.fresh.frame
    const frame = frameOf(name, seq)
    if (state) state.fresh = { at: now, seq: state.seq, frame }
    return frame
  }
  const beat = () => Buffer.from(`event: beat\ndata: ${JSON.stringify({ serverNow: sight().now })}\n\n`)

  const send = (name: string, state: TopicState) => {
    state.timer = null
    state.sentSeq = state.seq
    const frame = frameOf(name, state.seq)
    if (!frame) return
    state.isSending = true
    const began = performance.now()
    inGoes(
      [...state.watchers],
      (watcher) => watcher.send(frame, name),
      () => {
        state.isSending = false
        const now = performance.now()
        // Where writing to all takes long, a third of the time stays free for bids.
        state.notBefore = Math.max(began + QUIET_MS, now + (now - began) / 2)
        if (state.seq > state.sentSeq) sendSoon(name, state)
      },
    )
  }

  const sendSoon = (name: string, state: TopicState) => {
    if (state.timer || state.isSending) return
    const wait = state.notBefore - performance.now()
    if (wait <= 0) send(name, state)
    else state.timer = setTimeout(() => send(name, state), wait)
  }

  const leave = (watcher: Watcher) => {
    watchers.delete(watcher)
    for (const name of watcher.topics) {
      const state = states.get(name)
      state?.watchers.delete(watcher)
      if (state && state.watchers.size === 0) {
        if (state.timer) clearTimeout(state.timer)
        states.delete(name)
      }
    }
  }

  const heartbeat = setInterval(() => {
    const frame = beat()
    const stuckBefore = performance.now() - stuckMs
    inGoes([...watchers], (watcher) => {
      watcher.dropIfStuck(stuckBefore)
      watcher.send(frame, 'beat')
    })
  }, heartbeatMs)
  heartbeat.unref()

  return {
    watch(response, names, lastSeen) {
      const watcher = openWatcher({
        response,
        topics: names,
        present: (name) => (name === 'beat' ? beat() : presentOf(name, seqNow())),
        left: leave,
      })
      // Listen first, then read: what happens in between is sent twice and never missed.
      watchers.add(watcher)
      const seq = seqNow()
      for (const name of watcher.topics) {
        const state = states.get(name) ?? {
          watchers: new Set(),
          notBefore: 0,
          timer: null,
          isSending: false,
          seq,
          sentSeq: seq,
          fresh: null,
        }
        state.watchers.add(watcher)
        states.set(name, state)
      }
      watcher.send(Buffer.concat([Buffer.from('retry: 1000\n'), beat()]), 'beat')
      if (lastSeen !== null && lastSeen >= seq) return
      for (const name of watcher.topics) {
        const frame = presentOf(name, seq)
        if (frame) watcher.send(frame, name)
      }
    },
    announce(facts) {
      const latest = new Map<string, number>()
      for (const fact of facts) {
        for (const topic of topics) for (const name of topic.touchedBy(fact)) latest.set(name, fact.seq)
      }
      for (const [name, seq] of latest) {
        const state = states.get(name)
        if (!state) continue
        state.seq = seq
        sendSoon(name, state)
      }
    },
    watching: () => watchers.size,
    close() {
      clearInterval(heartbeat)
      for (const state of states.values()) if (state.timer) clearTimeout(state.timer)
      for (const watcher of watchers) watcher.end()
    },
  }
}

/** Does something for each of many, some at a time, letting the event loop turn in between. */
function inGoes<T>(all: readonly T[], each: (one: T) => void, done: () => void = () => {}, from = 0): void {
  for (const one of all.slice(from, from + IN_ONE_GO)) each(one)
  if (from + IN_ONE_GO < all.length) setImmediate(() => inGoes(all, each, done, from + IN_ONE_GO))
  else done()
}
