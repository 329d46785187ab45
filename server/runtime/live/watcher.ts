import type { ServerResponse } from 'node:http'

export interface Watcher {
  readonly topics: ReadonlySet<string>
  /** Up to which fact each topic was brought here. */
  readonly had: Map<string, number>
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
  /** Ends it when this has gone out. */
  goodbye(frames: Buffer): void
}

const HEAD = ['HTTP/1.1 200 OK', 'Content-Type: text/event-stream', 'Cache-Control: no-store', 'X-Accel-Buffering: no', 'Connection: close']

/**
 * One reader of the event stream. Its head is written by hand and its frames go to the socket as they are: the
 * body runs until the connection closes (RFC 9112, 6.3), so no frame is wrapped in chunks anew for each of thousands.
 */
export function openWatcher(parts: {
  response: ServerResponse
  topics: readonly string[]
  mayStill(): boolean
  /** Its line is free again after it was not. */
  drained(watcher: Watcher): void
  left(watcher: Watcher): void
}): Watcher {
  const { response, topics, mayStill, drained, left } = parts
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
    mayStill,
    sentAt: () => sentAt,
    isReady() {
      if (!socket || socket.destroyed) return false
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
    goodbye: (frames) => socket?.end(frames),
  }
  socket?.on('drain', () => {
    stuckSince = null
    drained(watcher)
  })
  response.on('close', () => left(watcher))
  return watcher
}
