import { connect } from 'node:net'

/** How long the pages of one house are given until each has said once that it reads. */
const ROUND_MS = 10_000
const PARTS = 10

/**
 * Says for many streams that they are read, as their pages do: each once in a round, a part of them at a time. Each part goes over a
 * line of its own, since a server closes one that asks nothing for some seconds.
 */
export function giveSigns(port: number, tokens: readonly string[], roundMs = ROUND_MS): () => void {
  let part = 0
  const timer = setInterval(() => {
    const now = tokens.filter((_, n) => n % PARTS === part)
    part = (part + 1) % PARTS
    if (now.length === 0) return
    const asked = now.map((token, n) => {
      const last = n === now.length - 1 ? 'Connection: close\r\n' : ''
      return `POST /live/here?stream=${token} HTTP/1.1\r\nHost: signs.example\r\nContent-Length: 0\r\n${last}\r\n`
    })
    const line = connect(port, '127.0.0.1', () => line.write(asked.join('')))
    // The answers are read and say nothing.
    line.on('error', () => {}).resume()
  }, roundMs / PARTS)
  return () => clearInterval(timer)
}
