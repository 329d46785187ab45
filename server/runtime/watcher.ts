import type { ServerResponse } from 'node:http'

export interface Watcher {
  readonly topics: ReadonlySet<string>
  /** Sends a frame; one that does not drain is noted as missed, and caught up with the latest when it does. */
  send(frame: Buffer, topic: string): void
  /** Ends one that has not drained since before `since`, by the monotonic clock. */
  dropIfStuck(since: number): void
  end(): void
}

const HEAD = ['HTTP/1.1 200 OK', 'Content-Type: text/event-stream', 'Cache-Control: no-store', 'X-Accel-Buffering: no', 'Connection: close']

/**
 * One reader of the event stream. Its head is written by hand and its frames go to the socket as they are: the
 * body runs until the connection closes (RFC 9112, 6.3), so no frame is wrapped in chunks anew for each of thousands.
 */
export function openWatcher(parts: {
  response: ServerResponse
  topics: readonly string[]
  /** The present state of what it missed while it was behind. */
  present(topic: string): Buffer | null
  left(watcher: Watcher): void
}): Watcher {
  const { response, topics, present, left } = parts
  const socket = response.socket
  const missed = new Set<string>()
  let stuckSince: number | null = null
  const others = Object.entries(response.getHeaders())
    .filter(([name]) => !HEAD.some((line) => line.toLowerCase().startsWith(`${name}:`)))
    .map(([name, value]) => `${name}: ${value}`)
  socket?.write([...HEAD, ...others, '', ''].join('\r\n'))

  const watcher: Watcher = {
    topics: new Set(topics),
    send(frame, topic) {
      if (!socket || socket.destroyed) return
      if (socket.writableNeedDrain) {
        missed.add(topic)
        stuckSince ??= performance.now()
      } else socket.write(frame)
    },
    dropIfStuck(since) {
      if (stuckSince !== null && stuckSince < since) socket?.destroy()
    },
    end: () => socket?.destroy(),
  }
  socket?.on('drain', () => {
    stuckSince = null
    const topicsMissed = [...missed]
    missed.clear()
    for (const topic of topicsMissed) {
      const frame = present(topic)
      if (frame) watcher.send(frame, topic)
    }
  })
  response.on('close', () => left(watcher))
  return watcher
}
