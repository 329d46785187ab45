import { connect } from 'node:net'

/** Speaks to a port line by line, as no library would; gives all that came back once the line was closed or nothing came for a while. */
export function speak(port: number, parts: readonly (string | Buffer)[], { every = 0, quietMs = 1500 } = {}): Promise<string> {
  return new Promise((resolve) => {
    const heard: Buffer[] = []
    const socket = connect(port, '127.0.0.1')
    let sent = 0
    let next: NodeJS.Timeout | undefined
    let quiet = setTimeout(() => socket.destroy(), quietMs)
    const more = () => {
      const part = parts[sent++]
      if (part === undefined || socket.destroyed) return
      socket.write(part)
      if (sent < parts.length) next = setTimeout(more, every)
    }
    socket.on('connect', more)
    socket.on('data', (part) => {
      heard.push(part)
      clearTimeout(quiet)
      quiet = setTimeout(() => socket.destroy(), quietMs)
    })
    // A line that is cut while one still speaks is an answer too.
    socket.on('error', () => {})
    socket.on('close', () => {
      clearTimeout(quiet)
      clearTimeout(next)
      resolve(Buffer.concat(heard).toString('latin1'))
    })
  })
}

/** The statuses of all answers that were heard. */
export const statusesOf = (heard: string): number[] => [...heard.matchAll(/^HTTP\/1\.1 (\d{3})/gm)].map((match) => Number(match[1]))
