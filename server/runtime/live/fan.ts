import { randomBytes } from 'node:crypto'
import type { ServerResponse } from 'node:http'
import type { Instant } from '#kernel/instant'
import { beatEvent, helloEvent, inOneWrite, type LastSeen, retryLine, type StateEvent, stateEvent } from './event-stream.rules'
import { openWatcher, type Watcher } from './watcher'

const QUIET_MS = 100
const HEARTBEAT_MS = 5_000
/** Within so long after a house has ended its watchers ask for it again. */
const COME_BACK_MS = 3_000
/** A page says at least every fifteen seconds that it reads; one that did not is let go before thirty have gone by. */
const SILENT_MS = 25_000
/** Watchers written to in one go; between goes the house takes bids. */
const IN_ONE_GO = 800

/** The state of a topic as it goes out. */
export interface Told {
  topic: string
  /** The last fact that touched it. */
  seq: number
  /** Whoever has this has heard of all that happened up to here, in every topic. */
  upTo: number
  /** JSON, whole. */
  data: string
}

interface TopicState {
  watchers: Set<Watcher>
  seq: number
  /** When the next round may bring it, by the monotonic clock. */
  notBefore: number
  /** What was made last, for all who are brought it within the same breath. */
  made: { at: number; seq: number; told: Told; event: StateEvent } | { at: number; seq: number; told: null; event: null } | null
  /** It is brought further than to the watchers here, so it stays when they have left. */
  isKept: boolean
}

type Due = [name: string, state: TopicState]

/** One watcher more, which follows each of some topics that changes. */
export interface Outlet {
  takes(topic: string): boolean
  take(told: Told): void
}

export interface Fan {
  /** How the tokens of its streams begin. Where it counts for itself, the word of its count as well. */
  readonly name: string
  /**
   * Opens an event stream on `response`. The first frame of every topic is its present state. A stream that not everybody
   * may have is asked before each write whether its reader still may, and ends with the answer no.
   */
  watch(response: ServerResponse, topics: readonly string[], lastSeen: LastSeen | null, mayStill?: () => boolean): void
  /** The page of a stream says that it reads. False where the stream is none of these. */
  hears(token: string): boolean
  /** Topics have changed, each by a fact of this number. */
  touch(news: Iterable<readonly [topic: string, seq: number]>): void
  /** The state of a topic for whoever carries it further; null where there is no such thing. */
  present(topic: string): Told | null
  /** From now on what changes goes there too. */
  alsoTo(outlet: Outlet): void
  /** The topics that anybody watches. */
  watched(): string[]
  /** Tells every screen at once that the house is there, and what troubles it. */
  beat(): void
  /** Another count holds: every screen is brought everything, and told so where it is that of an earlier copy. */
  beginAnew(isEarlier: boolean): void
  watching(): number
  /** Sends all watchers away, each to come back after another while, so that they do not come all at once. */
  close(): void
}

export interface FanParts {
  /** The state of a topic as JSON, and up to which fact nothing is missing before it; null where there is no such thing. */
  make(topic: string, seq: number): { data: string; upTo: number } | null
  seqNow(): number
  /** Up to which fact a topic is known that nobody has followed so far; up to the last one unless it says otherwise. */
  seqOf?(topic: string): number
  /** The word of the count that its numbers are of; a house's fan begins one of its own at each opening. */
  epoch?(): string
  /** The house's time. */
  now(): Instant
  /** Which build answers, for pages and whoever carries frames further. */
  build?: string
  /** What keeps the house from taking anything, in words; null on a good day. It goes with every beat. */
  trouble?(): string | null
  /** Commits what waits: called between two goes, so that bids that came in meanwhile do not wait for the next. */
  settle?(): void
  stuckMs?: number
  silentMs?: number
  inOneGo?: number
  heartbeatMs?: number
  quietMs?: number
  /** How long a state that was made goes out as it is, unless news of it come. */
  madeMs?: number
  lastWordsMs?: number
}

/**
 * Server-sent events. What is new is brought in rounds: from one watcher to the next, and to each the state as it is
 * when the round comes by, so a fact is on the last screen after one round at most, however many facts there are. The
 * first begins at once; a topic goes at most once in 100 ms. Frames are complete, are made once for all and written to
 * the sockets as they are. A watcher whose line is full is passed over, brought the latest when it drains, and dropped
 * when it has taken nothing for `stuckMs`. Minutes of beats fit into what kernels and proxies hold for a reader, so a page
 * also says now and then that it reads, and a stream whose page is silent is let go.
 */
export function openFan(parts: FanParts): Fan {
  const { make, seqNow, seqOf = seqNow, now, build, trouble = () => null, settle = () => {} } = parts
  const { stuckMs = 30_000, silentMs = SILENT_MS, inOneGo = IN_ONE_GO, heartbeatMs = HEARTBEAT_MS, quietMs = QUIET_MS } = parts
  const { madeMs = quietMs, lastWordsMs } = parts
  const name = randomBytes(6).toString('base64url')
  const { epoch = () => name } = parts
  const states = new Map<string, TopicState>()
  const watchers = new Set<Watcher>()
  const byToken = new Map<string, Watcher>()
  /** Topics that a round has to bring yet, with the first fact that it would tell. */
  const news = new Map<string, number>()
  let outlet: Outlet | null = null
  let isGoing = false
  let timer: NodeJS.Timeout | null = null

  const stateOf = (topic: string): TopicState =>
    states.get(topic) ?? { watchers: new Set(), seq: seqOf(topic), notBefore: 0, made: null, isKept: false }
  const madeOf = (topic: string, state: TopicState): NonNullable<TopicState['made']> => {
    const at = performance.now()
    const { made, seq } = state
    if (made && made.seq === seq && at - made.at < madeMs) return made
    const body = make(topic, seq)
    if (body === null) {
      state.made = { at, seq, told: null, event: null }
      return state.made
    }
    let upTo = body.upTo
    for (const [other, first] of news) if (other !== topic) upTo = Math.min(upTo, first - 1)
    const told = { topic, seq, upTo, data: body.data }
    state.made = { at, seq, told, event: stateEvent(epoch(), topic, told) }
    return state.made
  }

  const endedFor = (watcher: Watcher): boolean => {
    if (watcher.mayStill()) return false
    watcher.end()
    return true
  }
  /** Sends what a watcher has not had of these topics, in one write, the oldest fact first. */
  const bring = (watcher: Watcher, due: readonly Due[]) => {
    if (!watcher.isReady() || endedFor(watcher)) return
    const events: StateEvent[] = []
    for (const [topic, state] of due) {
      if (!watcher.topics.has(topic) || (watcher.had.get(topic) ?? -1) >= state.seq) continue
      const { event } = madeOf(topic, state)
      watcher.had.set(topic, state.seq)
      if (event) events.push(event)
    }
    const write = inOneWrite(events, watcher.upTo, epoch())
    if (!write) return
    watcher.upTo = write.upTo
    watcher.send(write.frames)
  }
  /** Those of some topics that anybody follows, the one that changed longest ago first. */
  const oldestFirst = (topics: Iterable<string>): Due[] =>
    [...topics]
      .flatMap((topic): Due[] => {
        const state = states.get(topic)
        return state ? [[topic, state]] : []
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
    const at = performance.now()
    const waits = (topic: string) => Math.max(0, (states.get(topic)?.notBefore ?? 0) - at)
    const topics = [...news.keys()].filter((topic) => waits(topic) === 0)
    if (topics.length === 0) {
      timer = setTimeout(goRound, Math.min(...[...news.keys()].map(waits)))
      return
    }
    isGoing = true
    const due = oldestFirst(topics)
    const behind = new Set<Watcher>()
    for (const topic of topics) news.delete(topic)
    for (const [topic, state] of due) {
      state.notBefore = at + quietMs
      for (const watcher of state.watchers) behind.add(watcher)
      if (!outlet?.takes(topic)) continue
      const { told } = madeOf(topic, state)
      if (told) outlet.take(told)
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
    byToken.delete(watcher.token)
    for (const topic of watcher.topics) {
      const state = states.get(topic)
      state?.watchers.delete(watcher)
      if (state && state.watchers.size === 0 && !state.isKept) states.delete(topic)
    }
  }

  const beat = () => beatEvent({ serverNow: now(), trouble: trouble() })
  const hello = (watcher: Watcher, isAnew: boolean) => helloEvent({ stream: watcher.token, build, isAnew })

  /** Whoever was sent nothing for half that time is told that the house is there, so nobody waits longer than all of it. */
  const heartbeat = setInterval(() => {
    const frame = beat()
    const at = performance.now()
    inGoes([...watchers], (watcher) => {
      watcher.dropIfStuck(at - stuckMs)
      if (endedFor(watcher)) return
      // Beats are counted and not the time, so that a house that was stopped for a while lets nobody go for that.
      watcher.silentFor += heartbeatMs / 2
      if (watcher.silentFor > silentMs) {
        leave(watcher)
        watcher.goodbye(Buffer.from(`${retryLine(500 + Math.random() * 1_000)}\n`))
      } else if (watcher.sentAt() <= at - heartbeatMs / 2 && watcher.isReady()) watcher.send(frame)
    })
  }, heartbeatMs / 2)
  heartbeat.unref()

  return {
    name,
    watch(response, topics, lastSeen, mayStill = () => true) {
      const watcher = openWatcher({
        response,
        topics,
        name,
        mayStill,
        lastWordsMs,
        drained: (one) => bring(one, oldestFirst(one.topics)),
        left: leave,
      })
      // Listen first, then read: what happens in between is sent twice and never missed.
      watchers.add(watcher)
      byToken.set(watcher.token, watcher)
      const isSameCount = lastSeen?.epoch === epoch()
      if (lastSeen && isSameCount) watcher.upTo = lastSeen.seq
      // A number that was never given here is one of a house that has been replaced by an earlier copy of itself.
      const isAnew = lastSeen !== null && !isSameCount && lastSeen.seq > seqNow()
      for (const topic of watcher.topics) {
        const state = stateOf(topic)
        state.watchers.add(watcher)
        states.set(topic, state)
        if (watcher.upTo >= state.seq) watcher.had.set(topic, state.seq)
      }
      watcher.send(Buffer.concat([Buffer.from(retryLine(1_000)), hello(watcher, isAnew), beat()]))
      bring(watcher, oldestFirst(watcher.topics))
    },
    hears(token) {
      const watcher = byToken.get(token)
      if (watcher) watcher.silentFor = 0
      return watcher !== undefined
    },
    touch(changed) {
      for (const [topic, seq] of changed) {
        const isKept = outlet?.takes(topic) ?? false
        const known = states.get(topic)
        if (!known && !isKept) continue
        const state = known ?? stateOf(topic)
        state.isKept ||= isKept
        state.seq = seq
        state.made = null
        states.set(topic, state)
        if (!news.has(topic)) news.set(topic, seq)
      }
      goRound()
    },
    present(topic) {
      const state = stateOf(topic)
      const { told } = madeOf(topic, state)
      if (told) {
        // From now on somebody has it, who is told when it changes.
        state.isKept ||= outlet?.takes(topic) ?? false
        if (state.isKept) states.set(topic, state)
      }
      return told
    },
    beat() {
      const frame = beat()
      inGoes([...watchers], (watcher) => {
        if (watcher.isReady() && !endedFor(watcher)) watcher.send(frame)
      })
    },
    beginAnew(isEarlier) {
      news.clear()
      for (const [topic, state] of states) {
        state.seq = seqOf(topic)
        state.made = null
      }
      inGoes([...watchers], (watcher) => {
        watcher.had.clear()
        watcher.upTo = -1
        if (!watcher.isReady() || endedFor(watcher)) return
        if (isEarlier) watcher.send(hello(watcher, true))
        bring(watcher, oldestFirst(watcher.topics))
      })
    },
    alsoTo(further) {
      outlet = further
    },
    watched: () => [...states].flatMap(([topic, { watchers }]) => (watchers.size > 0 ? [topic] : [])),
    watching: () => watchers.size,
    close() {
      clearInterval(heartbeat)
      if (timer) clearTimeout(timer)
      news.clear()
      for (const watcher of watchers) watcher.goodbye(Buffer.from(`${retryLine(1_000 + Math.random() * COME_BACK_MS)}\n`))
    },
  }
}
