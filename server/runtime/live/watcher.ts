import { randomBytes } from 'node:crypto'
import type { ServerResponse } from 'node:http'

export interface Watcher {
  readonly topics: ReadonlySet<string>
  /** Up to which fact each topic was brought here. */
  readonly had: Map<string, number>
  /** Up to which fact it misses nothing, by the number that it has; -1 before it has one. */
  upTo: number
  /** By what its page says that it reads. */
  readonly token: string
  /** Milliseconds of heartbeats since its page said so last. */
  silentFor: number
  /** Whether whoever reads may still be sent anything. */
  mayStill(): boolean
  /** When anything was sent last, by the monotonic clock. */
  sentAt(): number
  /** False while its line takes nothing more, or when it is gone: what it misses then is for later. */
  isReady(): boolean
  send(frames: Buffer): void
  /** Ends one that has not drained since before `since`, by the monotonic clock. */
  dropIfStuck(since: number): void
  end(): void
  /** Ends it when this has gone out, or a moment later when nobody reads it. */
  goodbye(frames: Buffer): void
}

const HEAD = ['HTTP/1.1 200 OK', 'Content-Type: text/event-stream', 'Cache-Control: no-store', 'X-Accel-Buffering: no', 'Connection: close']

/** A reader who reads has the last words by then, and has closed its side. */
const LAST_WORDS_MS = 2_000

/**
 * One reader of the event stream. Its head is written by hand and its frames go to the socket as they are: the
 * body runs until the connection closes (RFC 9112, 6.3), so no frame is wrapped in chunks anew for each of thousands.
 */
export function openWatcher(parts: {
  response: ServerResponse
  topics: readonly string[]
  /** How tokens of this fan begin. */
  name: string
  mayStill(): boolean
  /** How long whoever does not read its last words is waited for. */
  lastWordsMs?: number
  /** Its line is free again after it was not. */
  drained(watcher: Watcher): void
  left(watcher: Watcher): void
}): Watcher {
  const { response, topics, name, mayStill, lastWordsMs = LAST_WORDS_MS, drained, left } = parts
  const socket = response.socket
  let stuckSince: number | null = null
  let sentAt = performance.now()
  const others = Object.entries(response.getHeaders())
    .filter(([name]) => !HEAD.some((line) => line.toLowerCase().startsWith(`${name}:`)))
    .map(([name, value]) => `${name}: ${value}`)
  socket?.write([...HEAD, ...others, '', ''].join('\r\n'))

  const watcher: Watcher = {
    topics: new Set(topics),
    had: new Map(),
    upTo: -1,
    token: `${name}.${randomBytes(9).toString('base64url')}`,
    silentFor: 0,
    mayStill,
    sentAt: () => sentAt,
    isReady() {
      if (!socket || socket.destroyed || socket.writableEnded) return false
      if (!socket.writableNeedDrain) return true
      stuckSince ??= performance.now()
      return false
    },
    send(frames) {
      sentAt = performance.now()
      socket?.write(frames)
    },
    dropIfStuck(since) {
      if (stuckSince !== null && stuckSince < since) socket?.destroy()
    },
    end: () => socket?.destroy(),
    goodbye(frames) {
      socket?.end(frames)
      setTimeout(() => socket?.destroy(), lastWordsMs).unref()
    },
  }
  socket?.on('drain', () => {
    stuckSince = null
    drained(watcher)
  })
  response.on('close', () => left(watcher))
  return watcher
}
