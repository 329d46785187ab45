import type { ServerResponse } from 'node:http'
import type { Recorded } from '../queue/queue'
import type { Sight } from '../queue/turn'
import { type LiveTopic, topicFor } from './live'
import { openWatcher, type Watcher } from './watcher'

const QUIET_MS = 100
const HEARTBEAT_MS = 5_000
/** Within so long after a house has ended its watchers ask for it again. */
const COME_BACK_MS = 3_000
/** Watchers written to in one go; between goes the house takes bids. */
const IN_ONE_GO = 800

interface TopicState {
  watchers: Set<Watcher>
  /** The last fact that touched it. */
  seq: number
  /** When the next round may bring it, by the monotonic clock. */
  notBefore: number
  /** What was made last, for all who are brought it within the same breath. */
  made: { at: number; seq: number; frame: Buffer | null } | null
}

type Due = [name: string, state: TopicState]

export interface Hub {
  /**
   * Opens an event stream on `response`. The first frame of every topic is its present state. A stream that not everybody
   * may have is asked before each write whether its reader still may, and ends with the answer no.
   */
  watch(response: ServerResponse, topics: readonly string[], lastSeen: number | null, mayStill?: () => boolean): void
  announce(facts: readonly Recorded[]): void
  /** Tells every screen at once that the house is there, and what troubles it. */
  beat(): void
  watching(): number
  /** Sends all watchers away, each to come back after another while, so that they do not come all at once. */
  close(): void
}

/**
 * Server-sent events. What is new is brought in rounds: from one watcher to the next, and to each the state as it is
 * when the round comes by, so a fact is on the last screen after one round at most, however many facts there are. The
 * first begins at once; a topic goes at most once in 100 ms. Frames are complete, are made once for all and written to
 * the sockets as they are. A watcher whose line is full is passed over, brought the latest when it drains, and dropped
 * when it has taken nothing for `stuckMs`.
 */
export function openHub(parts: {
  topics: readonly LiveTopic[]
  sight(): Sight
  seqNow(): number
  /** Commits what waits: called between two goes, so that bids that came in meanwhile do not wait for the next. */
  settle?(): void
  /** What keeps the house from taking anything, in words; null on a good day. It goes with every beat. */
  trouble?(): string | null
  /** A frame that could not be made: its screens stay as they are, and nothing else stands still for it. */
  fault?(reason: unknown, topic: string): void
  stuckMs?: number
  inOneGo?: number
  heartbeatMs?: number
}): Hub {
  const {
    topics,
    sight,
    seqNow,
    settle = () => {},
    trouble = () => null,
    fault = () => {},
    stuckMs = 30_000,
    inOneGo = IN_ONE_GO,
    heartbeatMs = HEARTBEAT_MS,
  } = parts
  const states = new Map<string, TopicState>()
  const watchers = new Set<Watcher>()
  /** Topics that a round has to bring yet, with the first fact that it would tell. */
  const news = new Map<string, number>()
  let isGoing = false
  let timer: NodeJS.Timeout | null = null

  /** A page that has heard this id has heard of all that happened up to it, in every topic. */
  const idOf = (name: string, { seq }: TopicState): number => {
    let id = seq
    for (const [other, first] of news) if (other !== name) id = Math.min(id, first - 1)
    return id
  }
  const bodyOf = (name: string): object | null => {
    try {
      return topicFor(topics, name)?.frame(sight(), name) ?? null
    } catch (reason) {
      fault(reason, name)
      return null
    }
  }
  const frameOf = (name: string, state: TopicState): Buffer | null => {
    const now = performance.now()
    const { made, seq } = state
    if (made && made.seq === seq && now - made.at < QUIET_MS) return made.frame
    const body = bodyOf(name)
    const frame = body && Buffer.from(`id: ${idOf(name, state)}\nevent: ${name}\ndata: ${JSON.stringify({ seq, ...body })}\n\n`)
    state.made = { at: now, seq, frame }
    return frame
  }

  const endedFor = (watcher: Watcher): boolean => {
    if (watcher.mayStill()) return false
    watcher.end()
    return true
  }
  /** Sends what a watcher has not had of these topics, in one write, the oldest fact first. */
  const bring = (watcher: Watcher, due: readonly Due[]) => {
    if (!watcher.isReady() || endedFor(watcher)) return
    const frames: Buffer[] = []
    for (const [name, state] of due) {
      if (!watcher.topics.has(name) || (watcher.had.get(name) ?? -1) >= state.seq) continue
      const frame = frameOf(name, state)
      watcher.had.set(name, state.seq)
      if (frame) frames.push(frame)
    }
    const [first, ...more] = frames
    if (first) watcher.send(more.length > 0 ? Buffer.concat(frames) : first)
  }
  /** Those of some topics that anybody follows, the one that changed longest ago first. */
  const oldestFirst = (names: Iterable<string>): Due[] =>
    [...names]
      .flatMap((name): Due[] => {
        const state = states.get(name)
        return state ? [[name, state]] : []
      })
      .sort(([, a], [, b]) => a.seq - b.seq)

  /** Does something for each of many, some at a time, letting the event loop turn in between. */
  const inGoes = (all: readonly Watcher[], each: (one: Watcher) => void, done: () => void = () => {}, from = 0): void => {
    settle()
    for (const one of all.slice(from, from + inOneGo)) each(one)
    if (from + inOneGo < all.length) setImmediate(() => inGoes(all, each, done, from + inOneGo))
    else done()
  }

  const goRound = () => {
    if (isGoing || news.size === 0) return
    if (timer) clearTimeout(timer)
    timer = null
    const now = performance.now()
    const waits = (name: string) => Math.max(0, (states.get(name)?.notBefore ?? 0) - now)
    const names = [...news.keys()].filter((name) => waits(name) === 0)
    if (names.length === 0) {
      timer = setTimeout(goRound, Math.min(...[...news.keys()].map(waits)))
      return
    }
    isGoing = true
    const due = oldestFirst(names)
    const behind = new Set<Watcher>()
    for (const name of names) news.delete(name)
    for (const [, state] of due) {
      state.notBefore = now + QUIET_MS
      for (const watcher of state.watchers) behind.add(watcher)
    }
    inGoes(
      [...behind],
      (watcher) => bring(watcher, due),
      () => {
        isGoing = false
        goRound()
      },
    )
  }

  const leave = (watcher: Watcher) => {
    watchers.delete(watcher)
    for (const name of watcher.topics) {
      const state = states.get(name)
      state?.watchers.delete(watcher)
      if (state && state.watchers.size === 0) states.delete(name)
    }
  }

  const beat = () => Buffer.from(`event: beat\ndata: ${JSON.stringify({ serverNow: sight().now, trouble: trouble() })}\n\n`)
  /** Whoever was sent nothing for half that time is told that the house is there, so nobody waits longer than all of it. */
  const heartbeat = setInterval(() => {
    const frame = beat()
    const now = performance.now()
    inGoes([...watchers], (watcher) => {
      watcher.dropIfStuck(now - stuckMs)
      if (endedFor(watcher)) return
      if (watcher.sentAt() <= now - heartbeatMs / 2 && watcher.isReady()) watcher.send(frame)
    })
  }, heartbeatMs / 2)
  heartbeat.unref()

  return {
    watch(response, names, lastSeen, mayStill = () => true) {
      const watcher = openWatcher({
        response,
        topics: names,
        mayStill,
        drained: (one) => bring(one, oldestFirst(one.topics)),
        left: leave,
      })
      // Listen first, then read: what happens in between is sent twice and never missed.
      watchers.add(watcher)
      const seq = seqNow()
      for (const name of watcher.topics) {
        const state = states.get(name) ?? { watchers: new Set(), seq, notBefore: 0, made: null }
        state.watchers.add(watcher)
        states.set(name, state)
        if (lastSeen !== null && lastSeen >= state.seq) watcher.had.set(name, state.seq)
      }
      watcher.send(Buffer.concat([Buffer.from('retry: 1000\n'), beat()]))
      bring(watcher, oldestFirst(watcher.topics))
    },
    announce(facts) {
      for (const fact of facts) {
        for (const topic of topics) {
          for (const name of topic.touchedBy(fact)) {
            const state = states.get(name)
            if (!state) continue
            state.seq = fact.seq
            if (!news.has(name)) news.set(name, fact.seq)
          }
        }
      }
      goRound()
    },
    beat() {
      const frame = beat()
      inGoes([...watchers], (watcher) => {
        if (watcher.isReady() && !endedFor(watcher)) watcher.send(frame)
      })
    },
    watching: () => watchers.size,
    close() {
      clearInterval(heartbeat)
      if (timer) clearTimeout(timer)
      news.clear()
      for (const watcher of watchers) watcher.goodbye(Buffer.from(`retry: ${Math.round(1000 + Math.random() * COME_BACK_MS)}\n\n`))
    },
  }
}
