import { existsSync } from 'node:fs'
import { createServer } from 'node:net'
import { join } from 'node:path'

const ROOT = join(import.meta.dirname, '..', '..')

const ARCHITECTURE = process.arch === 'arm64' ? 'aarch64' : 'x86_64'

/** A program beside which the house is tried: the system's, or Debian's as the suite unpacked it; null where there is none. */
export const neighbour = (name: string, ...paths: readonly string[]): string | null =>
  paths.flatMap((path) => [join('/', path), join(ROOT, 'node_modules', '.cache', name, path)]).find((path) => existsSync(path)) ?? null

export const NATS_SERVER = neighbour('nats-server', 'usr/sbin/nats-server')

/** Gives a program another wall clock than the machine's. */
export const FAKE_TIME = neighbour('libfaketime', `usr/lib/${ARCHITECTURE}-linux-gnu/faketime/libfaketime.so.1`)

/** A port that is free now. */
export const freePort = (): Promise<number> =>
  new Promise((resolve) => {
    const probe = createServer().listen(0, '127.0.0.1', () => {
      const address = probe.address()
      probe.close(() => resolve(typeof address === 'object' && address ? address.port : 0))
    })
  })
