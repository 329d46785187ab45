import type { ServerResponse } from 'node:http'
import { type LiveTopic, topicFor } from './live'
import type { Recorded } from './queue'
import type { Sight } from './turn'

const QUIET_MS = 100
const HEARTBEAT_MS = 10_000
const MOST_BEHIND_BYTES = 1 << 20

interface Watcher {
  response: ServerResponse
  topics: Set<string>
}

interface TopicState {
  watchers: Set<Watcher>
  sentAt: number
  timer: NodeJS.Timeout | null
  seq: number
}

export interface Hub {
  /** Opens an event stream on `response`. The first frame of every topic is its present state. */
  watch(response: ServerResponse, topics: readonly string[], lastSeen: number | null): void
  announce(facts: readonly Recorded[]): void
  watching(): number
  close(): void
}

/**
 * Server-sent events. A frame is made once and written to every socket as it is; the first at once,
 * then at most one per topic in 100 ms. A watcher that does not drain keeps only the latest state:
 * it is skipped while its socket is full, and dropped when it is a megabyte behind.
 */
export function openHub({ topics, sight, seqNow }: { topics: readonly LiveTopic[]; sight(): Sight; seqNow(): number }): Hub {
  const states = new Map<string, TopicState>()
  const watchers = new Set<Watcher>()
  const behind = new Map<Watcher, Set<string>>()

  const frameOf = (name: string, seq: number): string | null => {
    const body = topicFor(topics, name)?.frame(sight(), name) ?? null
    return body && `id: ${seq}\nevent: ${name}\ndata: ${JSON.stringify({ seq, ...body })}\n\n`
  }

  const write = (watcher: Watcher, frame: string, name: string) => {
    if (watcher.response.writableLength > MOST_BEHIND_BYTES) {
      watcher.response.destroy()
      return
    }
    if (watcher.response.writableNeedDrain) {
      const missed = behind.get(watcher) ?? new Set()
      behind.set(watcher, missed.add(name))
      return
    }
    watcher.response.write(frame)
  }

  const send = (name: string, state: TopicState) => {
    state.timer = null
    state.sentAt = performance.now()
    const frame = frameOf(name, state.seq)
    if (!frame) return
    for (const watcher of state.watchers) write(watcher, frame, name)
  }

  const touch = (name: string, seq: number) => {
    const state = states.get(name)
    if (!state) return
    state.seq = seq
    if (state.timer) return
    const wait = QUIET_MS - (performance.now() - state.sentAt)
    if (wait <= 0) send(name, state)
    else state.timer = setTimeout(() => send(name, state), wait)
  }

  const leave = (watcher: Watcher) => {
    watchers.delete(watcher)
    behind.delete(watcher)
    for (const name of watcher.topics) {
      const state = states.get(name)
      state?.watchers.delete(watcher)
      if (state && state.watchers.size === 0) {
        if (state.timer) clearTimeout(state.timer)
        states.delete(name)
      }
    }
  }

  const catchUp = (watcher: Watcher) => {
    const missed = behind.get(watcher)
    if (!missed) return
    behind.delete(watcher)
    for (const name of missed) {
      const frame = frameOf(name, seqNow())
      if (frame) write(watcher, frame, name)
    }
  }

  const heartbeat = setInterval(() => {
    const beat = `event: beat\ndata: ${JSON.stringify({ serverNow: sight().now })}\n\n`
    for (const watcher of watchers) write(watcher, beat, 'beat')
  }, HEARTBEAT_MS)
  heartbeat.unref()

  return {
    watch(response, names, lastSeen) {
      response.writeHead(200, { 'content-type': 'text/event-stream', 'cache-control': 'no-store', 'x-accel-buffering': 'no' })
      const watcher: Watcher = { response, topics: new Set(names) }
      // Listen first, then read: what happens in between is sent twice and never missed.
      watchers.add(watcher)
      for (const name of watcher.topics) {
        const state = states.get(name) ?? { watchers: new Set(), sentAt: Number.NEGATIVE_INFINITY, timer: null, seq: seqNow() }
        state.watchers.add(watcher)
        states.set(name, state)
      }
      response.on('close', () => leave(watcher))
      response.on('drain', () => catchUp(watcher))
      response.write(`retry: 1000\nevent: beat\ndata: ${JSON.stringify({ serverNow: sight().now })}\n\n`)
      const seq = seqNow()
      if (lastSeen !== null && lastSeen >= seq) return
      for (const name of watcher.topics) {
        const frame = frameOf(name, seq)
        if (frame) response.write(frame)
      }
    },
    announce(facts) {
      const latest = new Map<string, number>()
      for (const fact of facts) {
        for (const topic of topics) for (const name of topic.touchedBy(fact)) latest.set(name, fact.seq)
      }
      for (const [name, seq] of latest) touch(name, seq)
    },
    watching: () => watchers.size,
    close() {
      clearInterval(heartbeat)
      for (const state of states.values()) if (state.timer) clearTimeout(state.timer)
      for (const watcher of watchers) watcher.response.destroy()
    },
  }
}
