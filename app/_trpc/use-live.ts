'use client'

import { useCallback, useSyncExternalStore } from 'react'
import { openHouseClock } from './house-clock'
import { useIsOfOther } from './looks-back'
import { openSignOfLife } from './sign-of-life'

interface Stream {
  source: EventSource | null
  topics: Map<string, Set<(frame: unknown) => void>>
  heardAt: number
  /** What keeps the house from taking anything, in its words. */
  trouble: string | null
  /** The house was replaced by an earlier copy of itself while this page was open. */
  isFromBefore: boolean
  listeners: Set<() => void>
  reopen: ReturnType<typeof setTimeout> | null
}

// One stream a page, shared by all its pieces: a browser opens six to one host over HTTP/1.1.
const stream: Stream = {
  source: null,
  topics: new Map(),
  heardAt: 0,
  trouble: null,
  isFromBefore: false,
  listeners: new Set(),
  reopen: null,
}
const latest = new Map<string, unknown>()
const clock = openHouseClock(() => tell())
const life = openSignOfLife()

const FROM_BEFORE =
  'The house was opened again from an earlier copy. What you see here may no longer be there: keep what you have written, and reload this page.'

function tell(): void {
  for (const listener of stream.listeners) listener()
}

function open(): void {
  stream.source?.close()
  stream.source = null
  if (stream.topics.size === 0) {
    clock.stop()
    return
  }
  const names = [...stream.topics.keys()]
  const source = new EventSource(`/live?topics=${names.map(encodeURIComponent).join(',')}`)
  stream.source = source
  const heard = (serverNow: number | undefined) => {
    stream.heardAt = performance.now()
    if (serverNow !== undefined) clock.hear(serverNow)
    life.heard()
    tell()
  }
  source.addEventListener('hello', (event) => {
    const { stream: token, isAnew } = JSON.parse(event.data) as { stream?: string; isAnew?: boolean }
    life.begin(token)
    if (isAnew) stream.isFromBefore = true
  })
  source.addEventListener('beat', (event) => {
    const { serverNow, trouble } = JSON.parse(event.data) as { serverNow: number; trouble?: string | null }
    stream.trouble = trouble ?? null
    heard(serverNow)
  })
  for (const name of names) {
    source.addEventListener(name, (event) => {
      const frame = JSON.parse(event.data) as { serverNow?: number }
      latest.set(name, frame)
      heard(frame.serverNow)
      for (const take of stream.topics.get(name) ?? []) take(frame)
    })
  }
  source.addEventListener('open', clock.start)
  source.addEventListener('error', () => {
    tell()
    // A browser asks again by itself after a break, but never after an answer such as a proxy's "bad gateway".
    if (source.readyState === EventSource.CLOSED && stream.source === source) reopenSoon(1_000 + Math.random() * 4_000)
  })
}

/** Gathers the topics of all pieces that mount in one go before the stream is opened. */
function reopenSoon(wait = 20): void {
  if (stream.reopen) clearTimeout(stream.reopen)
  stream.reopen = setTimeout(open, wait)
}

function follow(topic: string, take: (frame: unknown) => void): () => void {
  const takers = stream.topics.get(topic)
  if (takers) takers.add(take)
  else {
    stream.topics.set(topic, new Set([take]))
    reopenSoon()
  }
  return () => {
    const left = stream.topics.get(topic)
    left?.delete(take)
    if (left && left.size === 0) {
      stream.topics.delete(topic)
      latest.delete(topic)
      reopenSoon()
    }
  }
}

/** Hears whether the house takes anything, on a page that follows nothing as well; answers how to stop. */
export const hearTheHouse = (): (() => void) => follow('meter', () => {})

/** The present frame of a topic: what came with the page, then what the house sends. Frames are complete, so the newest is all there is. */
export function useLive<Frame extends object>(topic: string, initial: Frame): Frame {
  const isOfOther = useIsOfOther(topic)
  // A new function each time would leave and join the stream at every render.
  const subscribe = useCallback((changed: () => void) => (isOfOther ? hearTheHouse() : follow(topic, changed)), [topic, isOfOther])
  const read = () => (isOfOther ? undefined : (latest.get(topic) as Frame | undefined)) ?? initial
  const frame = useSyncExternalStore(subscribe, read, () => initial)
  return frame
}

export interface Liveness {
  /** Server time minus this browser's, in milliseconds; undefined before it was measured. */
  offset: number | undefined
  /** By how much the offset may be wrong, in milliseconds. */
  doubt: number
  /** When anything was last heard, in milliseconds since this page began, which no clock that is set can move; 0 before the first. */
  heardAt: number
  connected: boolean
  /** What keeps the house from taking anything, in its words; null on a good day. */
  trouble: string | null
}

const NOT_YET: Liveness = { offset: undefined, doubt: 0, heardAt: 0, connected: false, trouble: null }
let lastLiveness = NOT_YET

function readLiveness(): Liveness {
  const connected = stream.source?.readyState === 1
  const best = clock.best()
  const offset = best?.offset
  const { heardAt } = stream
  const trouble = stream.trouble ?? (stream.isFromBefore ? FROM_BEFORE : null)
  const isSame = lastLiveness.offset === offset && lastLiveness.heardAt === heardAt && lastLiveness.trouble === trouble
  if (!isSame || lastLiveness.connected !== connected) lastLiveness = { offset, doubt: (best?.delay ?? 0) / 2, heardAt, connected, trouble }
  return lastLiveness
}

/** How the stream is doing; a page older than ten seconds says so. */
export function useLiveness(): Liveness {
  return useSyncExternalStore(listen, readLiveness, () => NOT_YET)
}

function listen(changed: () => void): () => void {
  stream.listeners.add(changed)
  return () => stream.listeners.delete(changed)
}
