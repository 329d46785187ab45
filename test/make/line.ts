import { connect, createServer, type Socket } from 'node:net'

/** A line to a port of this machine that a test can cut, as a pulled cable does: nothing comes through, and nobody is told. */
export interface Line {
  port: number
  cut(): void
  mend(): void
  close(): void
}

export async function openLine(to: number): Promise<Line> {
  let isCut = false
  const sockets = new Set<Socket>()
  const server = createServer((near) => {
    const far = connect(to, '127.0.0.1')
    for (const [from, into] of [
      [near, far],
      [far, near],
    ] as const) {
      sockets.add(from)
      from.setNoDelay(true)
      from.on('data', (bytes) => {
        if (!isCut) into.write(bytes)
      })
      from.on('error', () => {})
      from.on('close', () => {
        sockets.delete(from)
        // Over a cut line nobody hears either that an end is gone.
        if (!isCut) into.destroy()
      })
    }
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const address = server.address()
  return {
    port: typeof address === 'object' && address ? address.port : 0,
    cut() {
      isCut = true
    },
    mend() {
      isCut = false
      // What was swallowed is missed by both ends: as after a cable, they begin anew.
      for (const socket of sockets) socket.destroy()
    },
    close() {
      for (const socket of sockets) socket.destroy()
      server.close()
    },
  }
}
