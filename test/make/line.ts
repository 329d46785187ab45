import { connect, createServer, type Socket } from 'node:net'

/** Which way what is sent goes: to the port, or back from it. */
export type Way = 'there' | 'back'

/** A line to a port of this machine that a test can cut, as a pulled cable does: nothing comes through, and nobody is told. */
export interface Line {
  port: number
  /** Both ways, unless one is named: then the other end hears, and is not heard. */
  cut(ways?: readonly Way[]): void
  /** What is sent waits, and comes late, all at once, when it is mended. */
  stall(): void
  mend(): void
  close(): void
}

const BOTH: readonly Way[] = ['there', 'back']

export async function openLine(to: number): Promise<Line> {
  let cutWays: readonly Way[] = []
  let isStalled = false
  let late: (() => void)[] = []
  const sockets = new Set<Socket>()
  const server = createServer((near) => {
    const far = connect(to, '127.0.0.1')
    for (const [way, from, into] of [
      ['there', near, far],
      ['back', far, near],
    ] as const) {
      sockets.add(from)
      from.setNoDelay(true)
      from.on('data', (bytes) => {
        if (isStalled) late.push(() => into.write(bytes))
        else if (!cutWays.includes(way)) into.write(bytes)
      })
      from.on('error', () => {})
      from.on('close', () => {
        sockets.delete(from)
        // Over a cut line nobody hears either that an end is gone.
        if (isStalled) late.push(() => into.destroy())
        else if (!cutWays.includes(way)) into.destroy()
      })
    }
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const address = server.address()
  return {
    port: typeof address === 'object' && address ? address.port : 0,
    cut(ways = BOTH) {
      cutWays = ways
    },
    stall() {
      isStalled = true
    },
    mend() {
      isStalled = false
      for (const arrive of late) arrive()
      late = []
      if (cutWays.length === 0) return
      cutWays = []
      // What was swallowed is missed by both ends: as after a cable, they begin anew.
      for (const socket of sockets) socket.destroy()
    },
    close() {
      for (const socket of sockets) socket.destroy()
      server.close()
    },
  }
}
