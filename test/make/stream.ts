import { connect } from 'node:net'

export interface RawStream {
  /** All that came. */
  readonly heard: string
  readonly isOver: boolean
  /** By what its reader says that it reads. */
  token(): string
  /** Reads no further, as a page whose machine has stopped. */
  stopReading(): void
  close(): void
}

/** Opens a stream on a socket of its own, as a browser at an address would. */
export function openStream(url: string, path: string, headers: Record<string, string> = {}): RawStream {
  const { hostname, port } = new URL(url)
  let heard = ''
  let isOver = false
  const lines = Object.entries({ host: hostname, ...headers }).map(([name, value]) => `${name}: ${value}\r\n`)
  const socket = connect(Number(port), hostname, () => socket.write(`GET ${path} HTTP/1.1\r\n${lines.join('')}\r\n`))
  socket.on('data', (part: Buffer) => {
    heard += part.toString()
  })
  socket.on('error', () => {})
  socket.on('close', () => {
    isOver = true
  })
  return {
    get heard() {
      return heard
    },
    get isOver() {
      return isOver
    },
    token: () => /"stream":"([^"]+)"/.exec(heard)?.[1] ?? '',
    stopReading: () => void socket.pause(),
    close: () => socket.destroy(),
  }
}
